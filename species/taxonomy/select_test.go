package taxonomy_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/speciestest"
	"hatchlore/species/taxonomy"
)

func TestSelect(t *testing.T) {
	claims := speciestest.Claims(t, `
alder cold favours 1
alder cold favours 2 T:Vernocephala_atra
alder cold favours 3 T:Vernocephala_nitida
alder cold favours 4 T:Vernocephala
alder cold favours 5 T:Vespertina_nitida
alder cold favours 6 T:Vernocephala_umbrosa_minor
alder cold favours 7 T:Vernocephala_cf._umbrosa
alder cold favours 8 T:Artemia`)
	names, err := taxonomy.NewNames([]taxonomy.Alias{{"Vernocephala atra", "Vernocephala umbrosa"}})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		asked, taxon, claims, borrowed string
	}{
		{"Vernocephala umbrosa", "Vernocephala umbrosa", "c1 c2 c6", "c3 c4 c7"},
		{"vernocephala atra", "Vernocephala umbrosa", "c1 c2 c6", "c3 c4 c7"},
		{"Vernocephala", "Vernocephala", "c1 c2 c3 c4 c6 c7", ""},
		{"V. umbrosa", "Vernocephala umbrosa", "c1 c2 c6", "c3 c4 c7"},
		{"Vern. nitida", "Vernocephala nitida", "c3", "c1 c2 c4 c6 c7"},
		{"atra", "Vernocephala umbrosa", "c1 c2 c6", "c3 c4 c7"},
		{"artemias", "Artemia", "c8", ""},
	} {
		s, err := taxonomy.Select(claims, tt.asked, names, true)
		if err != nil {
			t.Errorf("%s: %v", tt.asked, err)
			continue
		}
		if got := []string{s.Taxon, ids(s.Claims), ids(s.Borrowed)}; !slices.Equal(got, []string{tt.taxon, tt.claims, tt.borrowed}) {
			t.Errorf("%s: got %q", tt.asked, got)
		}
	}
	var ambiguous *taxonomy.Ambiguous
	if _, err := taxonomy.Select(claims, "V. nitida", names, false); !errors.As(err, &ambiguous) {
		t.Errorf("V. nitida: %v", err)
	}
	for asked, want := range map[string]string{
		"Vernocefala umbrossa": "did you mean Vernocephala umbrosa?",
		"Vernocephalla":        "did you mean Vernocephala?",
		"Quercus":              "lists the 7 names",
	} {
		var unknown *taxonomy.Unknown
		if _, err := taxonomy.Select(claims, asked, names, false); !errors.As(err, &unknown) || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q in it", asked, err, want)
		}
	}
	if _, err := taxonomy.Select(nil, "Artemia", nil, false); err == nil || !strings.Contains(err.Error(), "no claims yet") {
		t.Errorf("empty library: %v", err)
	}
}

func ids(claims []evidence.Claim) string {
	var out []string
	for _, c := range claims {
		out = append(out, c.ID)
	}
	return strings.Join(out, " ")
}

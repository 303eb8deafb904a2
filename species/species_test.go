package species

import (
	"encoding/json"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"

	"github.com/google/go-cmp/cmp"
)

func jsonOf(t testing.TB, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestNames(t *testing.T) {
	n, err := NewNames([]Alias{{"Vernocephala atra", "Vernocephala umbrosa"}, {"Ombracaris umbrosa", "Vernocephala atra"}, {"Ombracaris", "Vernocephala"}})
	if err != nil {
		t.Fatal(err)
	}
	for in, want := range map[string]string{
		"vernocephala  ATRA":   "Vernocephala umbrosa",
		"Ombracaris umbrosa":   "Vernocephala umbrosa",
		"Ombracaris nitida":    "Vernocephala nitida",
		"Vernocephala umbrosa": "Vernocephala umbrosa",
		"Triops":               "Triops",
		"":                     "",
	} {
		if got := n.Current(in); got != want {
			t.Errorf("Current(%q) = %q, want %q", in, got, want)
		}
	}
	if d := cmp.Diff([]string{"Ombracaris umbrosa", "Vernocephala atra"}, n.Synonyms("Vernocephala umbrosa", []string{"Vernocephala atra", "Ombracaris umbrosa", "Vernocephala umbrosa", "Triops"})); d != "" {
		t.Error(d)
	}
	for _, bad := range [][]Alias{{{"A b", "A b"}}, {{"A b", "A c"}, {"A c", "A b"}}, {{"", "A"}}} {
		if _, err := NewNames(bad); err == nil {
			t.Errorf("aliases %v are taken", bad)
		}
	}
}

func TestSelect(t *testing.T) {
	claims := claimsOf(t, `
alder cold favours 1
alder cold favours 2 T:Vernocephala_atra
alder cold favours 3 T:Vernocephala_nitida
alder cold favours 4 T:Vernocephala
alder cold favours 5 T:Vespertina_nitida
alder cold favours 6 T:Vernocephala_umbrosa_minor
alder cold favours 7 T:Vernocephala_cf._umbrosa
alder cold favours 8 T:Artemia`)
	names, err := NewNames([]Alias{{"Vernocephala atra", "Vernocephala umbrosa"}})
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
		s, err := Select(claims, tt.asked, names, true)
		if err != nil {
			t.Errorf("%s: %v", tt.asked, err)
			continue
		}
		if got := []string{s.Taxon, ids(s.Claims), ids(s.Borrowed)}; !slices.Equal(got, []string{tt.taxon, tt.claims, tt.borrowed}) {
			t.Errorf("%s: got %q", tt.asked, got)
		}
	}
	var ambiguous *AmbiguousTaxon
	if _, err := Select(claims, "V. nitida", names, false); !errors.As(err, &ambiguous) {
		t.Errorf("V. nitida: %v", err)
	}
	for asked, want := range map[string]string{
		"Vernocefala umbrossa": "did you mean Vernocephala umbrosa?",
		"Vernocephalla":        "did you mean Vernocephala?",
		"Quercus":              "lists the 7 names",
	} {
		var unknown *UnknownTaxon
		if _, err := Select(claims, asked, names, false); !errors.As(err, &unknown) || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q in it", asked, err, want)
		}
	}
	if _, err := Select(nil, "Artemia", nil, false); err == nil || !strings.Contains(err.Error(), "no claims yet") {
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

func TestDoubtful(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want bool
	}{
		{"Phallocryptus spinosa", "Phallocryptus spinosus", true},
		{"Streptocephalus seali", "Streptocephalus sealii", true},
		{"Triops longicaudatus", "Triops longicaudatns", true},
		{"Eulimnadia texana", "Eulimnadla texana", true},
		{"Branchinecta lynchi", "Branchinecta lindahli", false},
		{"Artemia salina", "Artemia sinica", false},
		{"Triops simplex", "Streptocephalus simplex", false},
	} {
		got := (*Names)(nil).Doubtful([]string{tt.a, tt.b})
		if (len(got) > 0) != tt.want {
			t.Errorf("%s and %s: %v", tt.a, tt.b, got)
		}
	}
}

func TestDistance(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"triops", "triops", 0}, {"triops", "tirops", 1}, {"triops", "trops", 1}, {"abc", "xyz", 3}, {"lindahli", "lindahlii", 1}} {
		if got := distance(tt.a, tt.b, 5); got != tt.want {
			t.Errorf("distance(%q, %q) = %d, want %d", tt.a, tt.b, got, tt.want)
		}
	}
}

// A level that a paper only says it tested stands with the outcome that it
// gives elsewhere, one without an outcome by itself; a statement that does not
// say its stage stands with the one that does.
func TestTableFolds(t *testing.T) {
	claims := claimsOf(t, `
alder cold reported 30
alder cold favours 30
alder cold favours 30 hatching
alder cold favours 30 emergence
alder cold reported 90
birch cold reported 30
alder cold reported 30 cite:Birch_1975
alder light reported 12:12
alder light indifferent 12:12`)
	var got []string
	for _, r := range Table(Selection{Taxon: "Vernocephala umbrosa", Claims: claims}, testLibrary, nil) {
		line := strings.Join([]string{r.ID, string(r.Bearing), r.Value, string(r.Stage)}, " ")
		for _, a := range r.Also {
			line += " +" + a.Claim
		}
		got = append(got, line)
	}
	if d := cmp.Diff([]string{
		"c3 favours 30 d hatching +c1 +c2",
		"c4 favours 30 d emergence",
		"c6 reported 30 d ",
		"c7 reported 30 d ",
		"c5 reported 90 d ",
		"c9 indifferent 12:12  +c8",
	}, got); d != "" {
		t.Error(d)
	}
}

func TestTable(t *testing.T) {
	claims := claimsOf(t, `
alder temp favours 10
alder cold favours 30
alder cold favours 30 hatching
alder cold favours 30
birch cold favours 30 cite:Alder_1960
alder cold prevents 10
cedar cold favours 90.. rejected
alder cold favours 20..45
alder dry favours 28 required`)
	claims[3].TwiceRead = true
	claims[1].Implied = true
	s := Selection{Taxon: "Vernocephala umbrosa", Claims: claims, Borrowed: claimsOf(t, "cedar cold favours 60 T:Vernocephala_nitida")}
	var got []string
	for _, r := range Table(s, testLibrary, nil) {
		line := strings.Join([]string{string(r.Factor), string(r.Bearing), r.Value, r.Citation, strings.Join(r.Marks, ",")}, " ")
		for _, a := range r.Also {
			line += " +" + a.Claim
		}
		if r.Borrowed {
			line += " borrowed"
		}
		if r.Echo != "" {
			line += " echo of " + r.Echo
		}
		got = append(got, line)
	}
	if d := cmp.Diff([]string{
		"drying favours required, 28 d Alder 1960 ",
		"stratification-length favours 20–45 d Alder 1960 ",
		"stratification-length favours 30 d Alder 1960 twice-read +c2 +c4",
		"stratification-length favours 30 d Birch & Cole 1975 second-hand echo of alder",
		"stratification-length prevents 10 d Alder 1960 ",
		"stratification-length favours 60 d Cedar et al. 1990  borrowed",
		"incubation-temperature favours 10 °C Alder 1960 ",
	}, got); d != "" {
		t.Error(d)
	}
}

func TestTableLosesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 40 {
		claims := madeUp(r, 60)
		for i := range claims {
			if r.IntN(10) == 0 {
				claims[i].Decision = evidence.Rejected
			}
		}
		seen := map[string]int{}
		for _, row := range Table(Selection{Claims: claims}, testLibrary, nil) {
			seen[row.ID]++
			for _, a := range row.Also {
				seen[a.Claim]++
			}
		}
		for _, c := range claims {
			want := 1
			if c.Decision == evidence.Rejected {
				want = 0
			}
			if seen[c.ID] != want {
				t.Fatalf("claim %s stands %d times in the table, want %d", c.ID, seen[c.ID], want)
			}
		}
	}
}

func TestEchoes(t *testing.T) {
	for cited, want := range map[string]string{
		"Alder (1960)":                     "alder",
		"(Birch & Cole 1975b; Fern 1950)":  "birch",
		"van der Dogtwo, 2001":             "dogtwo",
		"(Birch & Cole 1975; Alder 1960)":  "alder",
		"Alder 1961":                       "",
		"Bramkotter (1983)":                "fir",
		"BRAMKOETTER 1983":                 "fir",
		"[12]":                             "",
		"J. Alder, personal communication": "",
	} {
		c := evidence.Claim{Secondhand: true, Cited: cited}
		if got := shelve(testLibrary).echoes(c); got != want {
			t.Errorf("echoes(%q) = %q, want %q", cited, got, want)
		}
	}
}

// BenchmarkLibrary is a library of 10,000 claims over 300 species.
func BenchmarkLibrary(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	claims := madeUp(r, 10000)
	library := Library{}
	for i := range claims {
		claims[i].Taxon = "Vernocephala " + string(rune('a'+i%15)) + string(rune('a'+i/15%20)) + "ensis"
		claims[i].Paper = "p" + string(rune('a'+r.IntN(26))) + string(rune('a'+r.IntN(20)))
		library[claims[i].Paper] = Paper{Authors: []string{"Author" + claims[i].Paper}, Year: 1950 + r.IntN(70)}
	}
	b.Run("conflicts", func(b *testing.B) {
		for b.Loop() {
			Conflicts(claims, library, nil)
		}
	})
	b.Run("table", func(b *testing.B) {
		for b.Loop() {
			Table(Selection{Claims: claims}, library, nil)
		}
	})
	b.Run("select", func(b *testing.B) {
		for b.Loop() {
			if _, err := Select(claims, "V. aaensis", nil, true); err != nil {
				b.Fatal(err)
			}
		}
	})
}

package table

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/speciestest"
	"hatchlore/species/taxonomy"

	"github.com/google/go-cmp/cmp"
)

// A level that a paper only says it tested stands with the outcome that it
// gives elsewhere, one without an outcome by itself; a statement that does not
// say its stage stands with the one that does.
func TestTableFolds(t *testing.T) {
	claims := speciestest.Claims(t, `
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
	for _, r := range Of(taxonomy.Selection{Taxon: "Vernocephala umbrosa", Claims: claims}, speciestest.Library(), nil) {
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
	claims := speciestest.Claims(t, `
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
	s := taxonomy.Selection{Taxon: "Vernocephala umbrosa", Claims: claims, Borrowed: speciestest.Claims(t, "cedar cold favours 60 T:Vernocephala_nitida")}
	var got []string
	for _, r := range Of(s, speciestest.Library(), nil) {
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
		claims := speciestest.MadeUp(r, 60)
		for i := range claims {
			if r.IntN(10) == 0 {
				claims[i].Decision = evidence.Rejected
			}
		}
		seen := map[string]int{}
		for _, row := range Of(taxonomy.Selection{Claims: claims}, speciestest.Library(), nil) {
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

func TestMarkUnsure(t *testing.T) {
	for _, x := range []struct {
		score   float64
		verdict evidence.Verdict
		want    bool
	}{{0.69, "", true}, {0.7, "", false}, {0.5, evidence.Accepted, false}} {
		c := evidence.Claim{Score: x.score, Decision: x.verdict}
		if got := slices.Contains(Marks(c), "unsure"); got != x.want {
			t.Errorf("score %v, %q: unsure %t", x.score, x.verdict, got)
		}
	}
}

// A fraction worked out from eggs counted is no guess from a word.
func TestCountedMark(t *testing.T) {
	for _, x := range []struct {
		printed string
		factor  evidence.Factor
		want    string
	}{
		{"31 of 150", evidence.HatchingFraction, "counted"},
		{"not one of 600", evidence.HatchingFraction, "counted"},
		{"half", evidence.HatchingFraction, "implied"},
		{"refrigerated", evidence.ColdTemperature, "implied"},
	} {
		got := Marks(evidence.Claim{Factor: x.factor, Printed: x.printed, Implied: true, Score: 0.9})
		if !slices.Equal(got, []string{x.want}) {
			t.Errorf("%s: marks %q, want %s", x.printed, got, x.want)
		}
	}
}

// A value that would be another paper's in another unit is marked where no other
// paper is anywhere near.
func TestSlipMarks(t *testing.T) {
	for _, x := range []struct {
		claims string
		want   []string // of the first row that has the value
		id     string
	}{
		{"alder cond favours 45000\nalder cond prevents 400\nbirch cond reported 45", []string{"unit? in a unit a thousand times smaller it would be 45 µS/cm, as in Birch & Cole 1975"}, "c1"},
		{"alder cond favours 45000\nbirch cond reported 45\ncedar cond favours 30000", []string{}, "c1"},
		{"alder cond favours 450\nbirch cond favours 45", []string{}, "c1"},
		{"alder cond favours 45000\nbirch cond favours 45 cite:Fern_1950", []string{}, "c1"},
		{"alder cond favours 45000\nalder cond favours 45", []string{}, "c1"},
		{"alder temp favours 64..68\nbirch temp favours 17.8..20", []string{"unit? read as °F it would be 17.8–20 °C, as in Birch & Cole 1975"}, "c1"},
		{"alder temp favours 35\nbirch temp favours 1.7", []string{}, "c1"},
	} {
		for _, r := range Of(taxonomy.Selection{Taxon: "Vernocephala umbrosa", Claims: speciestest.Claims(t, x.claims)}, speciestest.Library(), nil) {
			if r.ID == x.id && !slices.Equal(r.Marks, x.want) {
				t.Errorf("%s: marks %q, want %q", x.claims, r.Marks, x.want)
			} else if r.ID != x.id && len(r.Marks) > 0 && !r.Secondhand {
				t.Errorf("%s: %s is marked %q", x.claims, r.Value, r.Marks)
			}
		}
	}
}

package species

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/speciestest"
	"hatchlore/species/taxonomy"
	"hatchlore/species/witness"

	"github.com/google/go-cmp/cmp"
)

func TestConflicts(t *testing.T) {
	for _, tt := range []struct {
		name, claims string
		want         []string
	}{
		{"apart", "alder cold favours 20\nalder cold favours 45\nbirch cold favours 90..",
			[]string{"apart stratification-length: favours 20–45 d alder/1 | favours ≥ 90 d birch/1"}},
		{"levels of one paper are no conflict", "alder temp favours 5\nalder temp favours 25", nil},
		{"ranges that meet", "alder temp favours 5..15\nbirch temp favours 12..20", nil},
		{"a month is four weeks", "alder cold favours 28\nbirch cold favours 30", nil},
		{"overlap merges into a side", "alder cold favours 20..30\nbirch cold favours 25..45\ncedar cold favours 90..120",
			[]string{"apart stratification-length: favours 20–45 d alder+birch/2 | favours 90–120 d cedar/1"}},
		{"opposed", "alder temp favours 20\nbirch temp prevents 18..22\nbirch temp favours 10",
			[]string{"opposed incubation-temperature: favours 20 °C alder/1 | prevents 18–22 °C birch/1"}},
		{"ranges beside a disputed value that concerns others", "alder cold favours 30\nbirch cold prevents 30\nbirch cold favours 60\ncedar cold favours 120",
			[]string{"opposed stratification-length: favours 30 d alder/1 | prevents 30 d birch/1", "apart stratification-length: favours 30 d alder/1 | favours 60 d birch/1 | favours 120 d cedar/1"}},
		{"a water merely used", "alder cond favours 110\nbirch cond favours 150\nbirch cond favours 300\ncedar cond favours 600..1500\nfir cond favours 290",
			[]string{"apart conductivity: favours 150–300 µS/cm birch+fir/2 | favours 600–1500 µS/cm cedar/1"}},
		{"storage merely used", "alder storage favours 90\nbirch storage favours 2190", nil},
		{"temperatures merely used", "alder temp favours 5\nbirch temp favours 25", nil},
		{"one of two used values is a misprint", "alder temp favours 10\nbirch temp favours 50",
			[]string{"apart incubation-temperature: favours 10 °C alder/1 | favours 50 °C birch/1"}},
		{"a cited value is not merely used", "alder temp favours 5\nalder temp favours 10\nbirch temp favours 30 cite:Fern_1950",
			[]string{"apart incubation-temperature: favours 5–10 °C alder/1 | favours 30 °C birch/0"}},
		{"one source cited in two units", "alder temp favours 10\nalder temp favours 14\nbirch temp favours 50 cite:Fern_(1950)\ncedar temp favours 10 cite:(Fern_1950)\ndogtwo temp prevents 18..20",
			[]string{"apart incubation-temperature: favours 10–14 °C alder+cedar/1 | favours 50 °C birch/0"}},
		{"bounds that touch", "alder temp favours ..15\nbirch temp prevents 15..", nil},
		{"opposed across tested levels", "alder temp favours 10\nalder temp favours 20\nbirch temp prevents 15",
			[]string{"opposed incubation-temperature: favours 10–20 °C alder/1 | prevents 15 °C birch/1"}},
		{"both outcomes in one paper oppose nobody", "alder temp favours 20\nalder temp prevents 20\nbirch temp favours 20", nil},
		{"no effect against none hatched", "alder cond indifferent 40..300\nbirch cond prevents 100",
			[]string{"opposed conductivity: indifferent 40–300 µS/cm alder/1 | prevents 100 µS/cm birch/1"}},
		{"need", "alder dry favours required\nbirch dry indifferent not-required\ncedar dry prevents harmful",
			[]string{"need drying: favours required alder/1 | indifferent not-required birch/1 | prevents harmful cedar/1"}},
		{"not needed and harmful agree", "alder dry indifferent not-required\nbirch dry prevents harmful", nil},
		{"tolerated and required agree", "alder freeze favours required\nbirch freeze indifferent tolerated", nil},
		{"tolerated against harmful", "alder freeze prevents harmful\nbirch freeze indifferent -12 tolerated",
			[]string{"opposed freezing: indifferent tolerated, −12 °C birch/1 | prevents harmful alder/1"}},
		{"triggers", "alder trigger favours flooding\nbirch trigger favours low-oxygen",
			[]string{"apart trigger: favours flooding alder/1 | favours low-oxygen birch/1"}},
		{"a trigger in common", "alder trigger favours flooding\nalder trigger favours low-oxygen\nbirch trigger favours low-oxygen", nil},
		{"trigger without effect", "alder trigger favours low-oxygen\nbirch trigger indifferent low-oxygen",
			[]string{"need trigger: favours low-oxygen alder/1 | indifferent low-oxygen birch/1"}},
		{"light", "alder light favours light-required\nbirch light favours dark",
			[]string{"apart light: favours dark birch/1 | favours light-required alder/1"}},
		{"light of no effect", "alder light favours light-required\nbirch light indifferent no-effect",
			[]string{"need light: favours light-required alder/1 | indifferent no-effect birch/1"}},
		{"photoperiods do not exclude each other", "alder light favours 12:12\nbirch light favours 16:8", nil},
		{"oxygen words", "alder o2 favours hypoxic\nbirch o2 prevents hypoxic",
			[]string{"opposed oxygen: favours hypoxic alder/1 | prevents hypoxic birch/1"}},
		{"fractions differ less than twofold", "alder fraction favours 40\nbirch fraction favours 60", nil},
		{"fractions clearly apart", "alder fraction favours 5..10\nbirch fraction favours 60",
			[]string{"apart hatching-fraction: favours 5–10 % alder/1 | favours 60 % birch/1"}},
		{"reported levels take no side", "alder temp reported 5\nbirch temp prevents 5", nil},
		{"an echo is no witness", "alder cold favours 30\nbirch cold favours 30 cite:Alder_(1960)\ncedar cold favours 90",
			[]string{"apart stratification-length: favours 30 d alder+birch/1 | favours 90 d cedar/1"}},
		{"a citation alone is no witness", "birch cold favours 30 cite:Fern_1950\ncedar cold favours 90",
			[]string{"apart stratification-length: favours 30 d birch/0 | favours 90 d cedar/1"}},
		{"a paper does not oppose what it cites of another by citing it", "alder cold favours 30\nbirch cold favours 30 cite:Alder_1960\nbirch cold prevents 30",
			[]string{"opposed stratification-length: favours 30 d alder+birch/1 | prevents 30 d birch/1"}},
		{"one experiment published twice", "alder cold favours 30\nelder cold favours 30\ncedar cold favours 90",
			[]string{"apart stratification-length: favours 30 d alder+elder/1 | favours 90 d cedar/1"}},
		{"second-hand only is an open question", "birch cold favours 30 cite:Fern_1950\nbirch cold favours 90 cite:Gale_1951", nil},
		{"rejected claims are out", "alder cold favours 30\nbirch cold favours 90 rejected", nil},
		{"species apart", "alder cold favours 30\nbirch cold favours 90 T:Vernocephala_nitida", nil},
		{"order", "alder temp favours 5..8\nbirch temp favours 25\nbirch temp favours 20\nalder cold favours 30\nbirch cold favours 90\nalder dry favours required\nbirch dry prevents harmful\nalder cond favours 50\nbirch cond prevents 50",
			[]string{"need drying: favours required alder/1 | prevents harmful birch/1",
				"opposed conductivity: favours 50 µS/cm alder/1 | prevents 50 µS/cm birch/1",
				"apart stratification-length: favours 30 d alder/1 | favours 90 d birch/1",
				"apart incubation-temperature: favours 5–8 °C alder/1 | favours 20–25 °C birch/1"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, c := range Conflicts(speciestest.Claims(t, tt.claims), speciestest.Library(), nil) {
				got = append(got, sketch(c))
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestMostContestedValue(t *testing.T) {
	cs := Conflicts(speciestest.Claims(t, `
alder cold favours 20..45
birch cold favours 0..60
cedar cold prevents 30
cedar cold favours 95
dogtwo cold prevents 30
dogtwo cold favours 90
alder cold prevents 10`), speciestest.Library(), nil)
	if len(cs) == 0 {
		t.Fatal("no conflict")
	}
	want := "opposed stratification-length: favours 0–60 d alder+birch/2 | prevents 30 d cedar+dogtwo/2"
	if got := sketch(cs[0]); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if id := "vernocephala-umbrosa:stratification-length:opposed:low"; cs[0].ID != id {
		t.Errorf("id %s, want %s", cs[0].ID, id)
	}
	if q := "cold-moist period: do eggs hatch after 30 d?"; cs[0].Question != q {
		t.Errorf("question %q, want %q", cs[0].Question, q)
	}
}

// Nobody dries or chills eggs for 0 days: they are spared it.
func TestQuestionOfTheSpared(t *testing.T) {
	for claims, want := range map[string]string{
		"\nalder cold favours 0\nbirch cold prevents 0":     "cold-moist period: do eggs hatch without one?",
		"\nalder cond favours 600\nbirch cond prevents 600": "conductivity at 25 °C: do eggs hatch at 600 µS/cm?",
	} {
		cs := Conflicts(speciestest.Claims(t, claims), speciestest.Library(), nil)
		if len(cs) == 0 || cs[0].Question != want {
			t.Errorf("%q: %+v, want %q", claims, cs, want)
		}
	}
}

// Those who saw no hatch at a higher value that the other side reaches stand
// with those at the disputed one; where else eggs hatched is told beside it.
func TestWitnessesAtOtherValues(t *testing.T) {
	cs := Conflicts(speciestest.Claims(t, `
alder cond favours 600
alder cond favours 1500
birch cond prevents 640
birch cond favours 100
cedar cond prevents 1200
fir cond prevents 9000`), speciestest.Library(), nil)
	var got conflict.Conflict
	for _, c := range cs {
		if c.Kind == conflict.Opposed {
			got = c
		}
	}
	if s, want := sketch(got), "opposed conductivity: favours 600–1500 µS/cm alder/1 | prevents 640–1200 µS/cm birch+cedar/2"; s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
	var elsewhere []string
	for _, s := range got.Elsewhere {
		elsewhere = append(elsewhere, s.Value+" "+strings.Join(s.Papers, "+"))
	}
	if d := cmp.Diff([]string{"100 µS/cm birch"}, elsewhere); d != "" {
		t.Error(d)
	}
}

// An open range elsewhere in a paper does not hide what it saw at the bar.
func TestOpenRangeDoesNotHideItsEnd(t *testing.T) {
	cs := Conflicts(speciestest.Claims(t, "alder cold favours 0\nalder cold favours 60..\nbirch cold prevents 0"), speciestest.Library(), nil)
	if len(cs) == 0 || sketch(cs[0]) != "opposed stratification-length: favours 0 d alder/1 | prevents 0 d birch/1" {
		t.Errorf("%+v", cs)
	}
}

// After one trigger, one paper counts eggs that emerged and another those that
// hatched: a disagreement by name only, and the stage is its reason.
func TestCountsOfStages(t *testing.T) {
	for _, tt := range []struct {
		name, claims string
		want         []string
	}{
		{"found", "alder trigger favours carbon-dioxide\nalder fraction favours 82 emergence\nbirch trigger favours carbon-dioxide\nbirch fraction favours 31 hatching\nbirch fraction favours 80 emergence",
			[]string{"apart hatching-fraction: favours 82 % alder/1 | favours 31 % birch/1"}},
		{"less than twice", "alder trigger favours flooding\nalder fraction favours 60 emergence\nbirch trigger favours flooding\nbirch fraction favours 31 hatching", nil},
		{"another trigger", "alder trigger favours flooding\nalder fraction favours 82 emergence\nbirch trigger favours other\nbirch fraction favours 31 hatching", nil},
		{"a paper that counts both", "alder trigger favours flooding\nalder fraction favours 82 emergence\nalder fraction favours 31 hatching", nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			claims := speciestest.Claims(t, tt.claims)
			for i := range claims { // a paper tells it all in one sentence
				claims[i].Page, claims[i].Start, claims[i].End = 1, 0, 80
			}
			var got []string
			for _, c := range Conflicts(claims, speciestest.Library(), nil) {
				if c.Factor != evidence.HatchingFraction || c.After == "" {
					continue
				}
				got = append(got, sketch(c))
				if len(c.Reasons) == 0 || c.Reasons[0].Kind != conflict.StageMixed || !strings.Contains(c.Question, "after carbon dioxide") {
					t.Errorf("%s: reasons %v", c.Question, c.Reasons)
				}
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestTorn(t *testing.T) {
	cs := Conflicts(speciestest.Claims(t, `
alder dry favours required
birch dry favours required
birch dry indifferent not-required
cedar dry indifferent not-required`), speciestest.Library(), nil)
	if len(cs) != 1 {
		t.Fatalf("%d conflicts, want 1", len(cs))
	}
	for _, s := range cs[0].Sides {
		if s.Firsthand != 1 || !slices.Equal(s.Torn, []string{"birch"}) {
			t.Errorf("side %s has %d witnesses, torn %v", s.Value, s.Firsthand, s.Torn)
		}
	}
}

// One sentence read wrongly in the only paper on a side must not hide what the
// others say; a paper that finds both alone is no disagreement.
func TestNeedAgainstTorn(t *testing.T) {
	for _, tt := range []struct {
		claims string
		want   []string // sides with their witnesses
	}{
		{"alder dry favours required\nalder dry indifferent not-required\nbirch dry indifferent not-required", []string{"required 0", "not-required 1"}},
		{"alder dry favours required\nalder dry indifferent not-required\nbirch dry favours required", []string{"required 1", "not-required 0"}},
		{"alder dry favours required\nalder dry indifferent not-required", nil},
		{"alder dry favours required\nalder dry indifferent not-required\nbirch dry indifferent not-required cite:Fern_1950", nil},
		{"alder dry favours required\nalder dry indifferent not-required cite:Fern_1950\nbirch dry indifferent not-required", []string{"required 1", "not-required 1"}},
	} {
		var got []string
		for _, c := range Conflicts(speciestest.Claims(t, tt.claims), speciestest.Library(), nil) {
			for _, s := range c.Sides {
				got = append(got, fmt.Sprint(s.Value, " ", s.Firsthand))
			}
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%s\n%s", tt.claims, d)
		}
	}
}

// Whether eggs need light and whether they hatch in the dark is one question.
func TestLightIsAskedOnce(t *testing.T) {
	cs := Conflicts(speciestest.Claims(t, `
alder light favours light-required
alder light prevents dark
alder light favours continuous
birch light indifferent no-effect
birch light favours dark`), speciestest.Library(), nil)
	if len(cs) != 1 || cs[0].Kind != conflict.Need {
		t.Errorf("%d conflicts, want the need for light alone: %+v", len(cs), cs)
	}
}

func TestQuestionsOfConflicts(t *testing.T) {
	for _, tt := range []struct{ claims, want string }{
		{"alder light favours dark\nbirch light prevents dark", "light: do eggs hatch in the dark?"},
		{"alder light favours light-required\nbirch light indifferent no-effect\ncedar light indifferent dark", "do the eggs need light: light required or without effect?"},
		{"alder trigger favours low-oxygen\nbirch trigger prevents low-oxygen", "does low oxygen set off the hatch, or prevent it?"},
		{"alder trigger favours low-oxygen\nbirch trigger indifferent low-oxygen", "does low oxygen set off the hatch, or not?"},
		{"alder trigger favours flooding\nbirch trigger indifferent flooding", "does flooding set off the hatch, or not?"},
		{"alder trigger favours flooding\nbirch trigger favours temperature-rise\ncedar trigger favours salinity-drop", "trigger: flooding, a drop in salinity or a rise in temperature?"},
		{"alder chill favours 6\nbirch chill prevents 6", "cold-moist temperature: do eggs hatch after cold at 6 °C?"},
		{"alder cold favours 6\nbirch cold prevents 6", "cold-moist period: do eggs hatch after 6 d?"},
		{"alder temp favours 6\nbirch temp prevents 6", "incubation temperature: do eggs hatch at 6 °C?"},
	} {
		cs := Conflicts(speciestest.Claims(t, tt.claims), speciestest.Library(), nil)
		if len(cs) == 0 || cs[0].Question != tt.want {
			t.Errorf("%s: %d conflicts, want %q of %+v", tt.claims, len(cs), tt.want, cs)
		}
	}
}

func TestReasons(t *testing.T) {
	for _, tt := range []struct {
		name, claims string
		want         []string // kind, and words that the note must have
	}{
		{"fahrenheit read as celsius", "cedar temp favours 50\nbirch temp favours 10", []string{"unit|50 °C|10 °C|Cedar et al. 1990|Birch & Cole 1975"}},
		{"decimal point", "cedar cond favours 1200\nbirch cond favours 120", []string{"unit|1200|120|Cedar|Birch"}},
		{"mS for uS", "cedar cond favours 0.5\nbirch cond favours 500", []string{"unit|thousand|Cedar|Birch"}},
		{"no slip of lengths", "cedar cold favours 10\nbirch cold favours 100", nil},
		{"emergence against hatching", "cedar temp favours 20 emergence\nbirch temp prevents 20 hatching", []string{"stage|Cedar et al. 1990 counted emergence|Birch & Cole 1975 counted hatching"}},
		{"emergence against unsaid", "cedar temp favours 20 emergence\nbirch temp prevents 20", []string{"stage|Cedar|did not say"}},
		{"the same stage", "cedar temp favours 20 hatching\nbirch temp prevents 20 hatching", nil},
		{"echo", "cedar cold favours 30 cite:Fern_1950\nbirch cold favours 90", []string{"echo|side A has no finding of its own: Cedar et al. 1990 cites Fern 1950"}},
		{"population", "alder cold favours 30\nbirch cold favours 90", []string{"population|North Fen|South Heath|Alder 1960|Birch & Cole 1975"}},
		{"the same population", "alder cold favours 30\ndogtwo cold favours 90", nil},
		{"other conditions", "cedar cold favours 30\nbirch cold favours 90\ncedar temp reported 5\nbirch temp favours 18", []string{"conditions|incubation temperature|5 °C in Cedar|18 °C in Birch"}},
		{"a condition found to make no difference", "cedar cold favours 30\nbirch cold favours 90\ncedar cond reported 100\nbirch cond favours 300\nfir cond indifferent 40..400", nil},
		{"a treatment that was tried both ways is no condition", "cedar cold favours 30\nbirch cold favours 90\ncedar dry reported 3\nbirch dry reported 30\nbirch dry indifferent not-required", nil},
		{"light found to make no difference", "cedar cold favours 30\nbirch cold favours 90\ncedar light reported dark\nbirch light reported 12:12\nfir light indifferent no-effect", nil},
		{"two hours more of light", "cedar cold favours 30\nbirch cold favours 90\ncedar light reported 12:12\nbirch light reported 14:10", nil},
		{"light and dark", "cedar cold favours 30\nbirch cold favours 90\ncedar light reported dark\nbirch light reported 14:10", []string{"conditions|light: dark in Cedar et al. 1990 against light and dark in turn in Birch"}},
		{"a trigger is a finding", "cedar cold favours 30\nbirch cold favours 90\ncedar trigger favours flooding\nbirch trigger favours low-oxygen", nil},
		{"an outcome is no condition", "cedar cold favours 30\nbirch cold favours 90\ncedar fraction favours 5\nbirch fraction favours 9", nil},
		{"order of reasons", "alder temp favours 50 emergence\ncedar temp favours 50 emergence cite:Alder_1960\nbirch temp favours 10 hatching\nalder dry reported 10\nbirch dry reported 90",
			[]string{"unit|50|Alder 1960", "stage|Alder 1960 counted emergence", "echo|on side B Cedar et al. 1990 only cites Alder 1960", "population|North Fen", "conditions|drying"}},
		{"eggs of a paper that only cites tell nothing", "alder cold favours 50 cite:(Fern,_1950;_Gale_1951)\nbirch cold favours 25", []string{"echo|Alder 1960 cites Fern 1950"}},
		{"half of a side worked elsewhere", "alder cold favours 30\nbirch cold favours 30\ndogtwo cold favours 90",
			[]string{"population|the eggs of Birch & Cole 1975 came from South Heath|those of van der Dogtwo 2001 from north fen|but those of Alder 1960 from North Fen"}},
		{"some of a side counted emergence", "alder temp favours 24 emergence\nfir temp favours 24 hatching\ncedar temp prevents 24 hatching", []string{"stage|Alder 1960 counted emergence, Cedar et al. 1990 counted hatching"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			cs := Conflicts(speciestest.Claims(t, tt.claims), speciestest.Library(), nil)
			if len(cs) == 0 {
				t.Fatal("no conflict")
			}
			rs := cs[0].Reasons
			if len(rs) != len(tt.want) {
				t.Fatalf("%d reasons, want %d: %v", len(rs), len(tt.want), rs)
			}
			for i, w := range tt.want {
				words := strings.Split(w, "|")
				if string(rs[i].Kind) != words[0] {
					t.Errorf("reason %d is %s, want %s", i, rs[i].Kind, words[0])
				}
				for _, word := range words[1:] {
					if !strings.Contains(rs[i].Note, word) {
						t.Errorf("%q lacks %q", rs[i].Note, word)
					}
				}
			}
		})
	}
}

func TestLevels(t *testing.T) {
	for _, tt := range []struct {
		claims string
		want   []string
	}{
		{"alder cold favours 20\nalder cold favours 30\nalder cold favours 45\nbirch cold favours 90..", []string{"control, 0 d", "30 d", "90 d"}},
		{"alder cold favours 30\nbirch cold prevents 30\nbirch cold favours 60\nbirch cold favours 95\nbirch cold favours 120", []string{"control, 0 d", "30 d", "95 d, for comparison"}},
		{"alder dry favours required 28\nbirch dry indifferent not-required\ncedar dry prevents harmful", []string{"control, 0 d", "28 d"}},
		{"alder dry favours required\nalder dry favours 30\nalder dry favours 60\nalder dry favours 120\nbirch dry indifferent not-required\nbirch dry favours 0", []string{"control, 0 d", "60 d"}},
		{"alder freeze favours required\nbirch freeze prevents harmful", []string{"frozen, how cold no paper tells", "control, not frozen"}},
		{"alder freeze favours required -18\nbirch freeze indifferent tolerated -8\ncedar freeze prevents harmful", []string{"−18 °C", "control, not frozen"}},
		{"alder freeze prevents harmful\nbirch freeze indifferent tolerated -12", []string{"−12 °C", "control, not frozen"}},
		{"alder cold prevents ..60\nbirch cold favours 30\ncedar cold favours 30\nfir cold favours 45", []string{"control, 0 d", "30 d"}},
		{"alder trigger favours low-oxygen\nbirch trigger favours flooding", []string{"flooding", "low-oxygen"}},
		{"alder trigger favours low-oxygen\nbirch trigger indifferent low-oxygen", []string{"low-oxygen", "control, flooding alone"}},
		{"alder trigger favours flooding\nbirch trigger indifferent flooding", []string{}},
		{"alder light favours light-required\nbirch light indifferent no-effect", []string{"light", "control, dark"}},
		{"alder temp favours 5\nalder temp favours 8\nbirch temp favours 20..22", []string{"5 °C", "20 °C"}},
		{"alder fraction favours 5\nbirch fraction favours 60", []string{}},
	} {
		cs := Conflicts(speciestest.Claims(t, tt.claims), speciestest.Library(), nil)
		if len(cs) == 0 {
			t.Errorf("no conflict in %s", tt.claims)
			continue
		}
		got := []string{}
		sides := map[int]bool{}
		for _, l := range cs[0].Levels {
			got = append(got, l.Label)
			sides[l.Side] = true
			if (l.Bearing == "") != (l.Side == 0) {
				t.Errorf("%s: level %s of side %d bears %q", tt.claims, l.Label, l.Side, l.Bearing)
			}
		}
		for i := range cs[0].Sides {
			if !sides[i+1] && len(got) > 0 {
				t.Errorf("%s: side %d has no level", tt.claims, i+1)
			}
		}
		got = slices.Compact(got)
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%s\n%s", tt.claims, d)
		}
	}
}

func TestQuestions(t *testing.T) {
	claims := speciestest.Claims(t, "alder cold favours 30\nbirch temp favours 8 cite:Fern_1950\ncedar ph reported 7")
	qs := Questions(taxonomy.Selection{Taxon: "Vernocephala umbrosa", Claims: claims}, speciestest.Library())
	if len(qs) != len(evidence.Measures())-2 {
		t.Errorf("%d open questions, want all factors but two", len(qs))
	}
	for _, q := range qs {
		if q.Kind != conflict.Silent || q.Factor == evidence.ColdLength || q.Factor == evidence.PH {
			t.Errorf("%s is no open question", q.ID)
		}
		if told := len(q.Sides) > 0; told != (q.Factor == evidence.WarmTemperature) {
			t.Errorf("%s has %d sides", q.ID, len(q.Sides))
		}
	}
}

func TestAgreements(t *testing.T) {
	for _, tt := range []struct {
		claims string
		want   []string
	}{
		{"alder temp favours 5..15\nbirch temp favours 10..20\ncedar temp favours 12 cite:Fern_1950", []string{"10–15 °C alder+birch"}},
		{"alder temp favours 5..15\nbirch temp favours 10..20\ncedar temp prevents 12", nil},
		{"alder temp favours 5..15\nelder temp favours 5..15", nil},
		{"alder temp favours 5\nbirch temp favours 15", nil},
		{"alder cond favours 100\nbirch cond indifferent 40..300", []string{"100 µS/cm alder+birch"}},
		{"alder cond favours 100\nbirch cond indifferent 40..300\nbirch cond favours 140", []string{"100 µS/cm alder+birch"}},
		{"alder o2 favours 0.6\nbirch o2 indifferent 0.6\nbirch o2 favours 0.9..9.9", nil},
		{"alder o2 favours 0.6\nalder o2 favours normoxic\nbirch o2 favours 0.6\nbirch o2 favours normoxic", []string{"0.6 mg/L alder+birch"}},
		{"alder dry favours required\nbirch dry favours required", []string{"required alder+birch"}},
	} {
		var got []string
		for _, a := range Agreements(speciestest.Claims(t, tt.claims), speciestest.Library(), nil) {
			got = append(got, a.Value+" "+strings.Join(a.Papers, "+"))
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%s\n%s", tt.claims, d)
		}
	}
}

// sketch prints a conflict in one line: kind factor: bearing value papers/firsthand | ...
func sketch(c conflict.Conflict) string {
	var sides []string
	for _, s := range c.Sides {
		sides = append(sides, fmt.Sprintf("%s %s %s/%d", s.Bearing, s.Value, strings.Join(s.Papers, "+"), s.Firsthand))
	}
	return fmt.Sprintf("%s %s: %s", c.Kind, c.Factor, strings.Join(sides, " | "))
}

// An experiment published twice is one witness, and a conflict says so.
func TestTwinsCountOnce(t *testing.T) {
	lib := witness.Library{
		"note":   {Key: "note", Year: 1960, Authors: []string{"Alder, Jo"}},
		"thesis": {Key: "thesis", Year: 1962, Authors: []string{"Alder, Jo"}},
		"birch":  {Key: "birch", Year: 1975, Authors: []string{"Birch, Ann"}},
	}
	claims := speciestest.Claims(t, speciestest.Outcomes("note")+speciestest.Outcomes("thesis")+"\nbirch cold prevents 30\nbirch cold favours 90")
	lib.Join(witness.Twins(claims, lib, nil))
	for _, c := range Conflicts(claims, lib, nil) {
		if c.Factor != evidence.ColdLength {
			continue
		}
		if s := c.Sides[0]; len(s.Papers) != 2 || s.Firsthand != 1 {
			t.Errorf("%s", sketch(c))
		}
		for _, r := range c.Reasons {
			if r.Kind == conflict.Twice && r.Note == "Alder 1962 tells of the same experiment as Alder 1960 (5 equal figures): it counts once" {
				return
			}
		}
		t.Errorf("reasons %+v", c.Reasons)
		return
	}
	t.Error("no conflict on cold")
}

package caveat_test

import (
	"strings"
	"testing"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/caveat"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
)

// What is at hand decides what is said of a plan: chambers, lots, the way it starts.
func TestOf(t *testing.T) {
	at := func(low, high float64) trial.Chamber { return trial.Chamber{Low: low, High: high} }
	for _, tt := range []struct {
		name      string
		req       design.Request
		factors   []string
		want, not string
	}{
		{"one chamber each", design.Request{Eggs: 400, Chambers: []trial.Chamber{at(5, 5), at(12, 12)}}, []string{"incubation-temperature=5,12"}, "cannot be tested", "batches"},
		{"swapped", design.Request{Eggs: 400, Runs: 2, Chambers: []trial.Chamber{at(4, 15), at(4, 15)}}, []string{"incubation-temperature=5,12"}, "between 4 chamber runs, not between dishes", "cannot be tested"},
		{"small dishes", design.Request{Eggs: 60, EggsPerDish: 3}, []string{"drying=0,3"}, "3 eggs a dish are few", "are many"},
		{"full dishes", design.Request{Eggs: 900, EggsPerDish: 60}, []string{"drying=0,3"}, "60 eggs a dish are many", "are few"},
		{"few dishes", design.Request{Eggs: 200, Dishes: 4}, []string{"drying=0,3"}, "only 2 degrees of freedom", "wait up to"},
		{"a lot too small", design.Request{Lots: []trial.Lot{{Name: "north", Eggs: 200}, {Name: "south", Eggs: 3}}}, []string{"drying=0,3"}, "nothing is taken from south", "north"},
		{"a temperature of no cold", design.Request{Eggs: 400}, []string{"stratification-length=0,30", "stratification-temperature=3,6"}, "the dishes at 0 d are alike", "nothing is taken"},
		{"dried when stored", design.Request{Eggs: 400}, []string{"storage-length=0,90", "drying=0,14"}, "what is called undried is no wetter than that", "few: one lost egg"},
	} {
		tt.req.Start, tt.req.Seed = trialtest.Start, 3
		for _, f := range tt.factors {
			tt.req.Factors = append(tt.req.Factors, trialtest.Factor(t, f))
		}
		p := trialtest.Plan(t, tt.req)
		list, err := caveat.Of(p, caveat.Bench{Chambers: tt.req.Chambers, Runs: max(1, tt.req.Runs), Lots: tt.req.Lots, Forward: tt.req.Forward})
		if err != nil {
			t.Fatal(err)
		}
		if said := strings.Join(list, "\n"); !strings.Contains(said, tt.want) || strings.Contains(said, tt.not) {
			t.Errorf("%s: %q, want …%s… and not …%s…", tt.name, said, tt.want, tt.not)
		}
	}
}

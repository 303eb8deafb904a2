package outcome

import (
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
)

// Whether one trigger helps is told by its own dishes: what another does beside it in
// the same trial is no gain of its own. Where eggs are few the flooding to compare with
// stays, and the trigger that goes is not judged by the one that stays.
func TestNeedOfOneTrigger(t *testing.T) {
	need := func(what string) trial.Question {
		return trial.Question{ID: what, Kind: trial.KindNeed, Factor: evidence.Trigger, Levels: []trial.Level{
			{Category: "flooding"}, {Category: what, Side: 1, Bearing: evidence.Favours}, {Category: what, Side: 2, Bearing: evidence.Indifferent}}}
	}
	for _, tt := range []struct {
		dishes int
		want   string
	}{
		{0, "low-oxygen contradicted, low-oxygen supported, carbon-dioxide supported, carbon-dioxide supported"},
		{5, "low-oxygen undecided, low-oxygen undecided, carbon-dioxide undecided, carbon-dioxide undecided"},
	} {
		p := trialtest.Plan(t, design.Request{Taxon: "Nova alba", Eggs: 480, Dishes: tt.dishes, Start: trialtest.Start, Seed: 3,
			Questions: []trial.Question{need("low-oxygen"), need("carbon-dioxide")}})
		if p.Factors[0].Levels[0] != trial.Cat("flooding") {
			t.Fatalf("levels %v", p.Factors[0].Levels)
		}
		r, err := Weigh(p, trialtest.Hatch(t, p, 9, func(d trial.Dish) float64 {
			if d.Levels[evidence.Trigger] == trial.Cat("carbon-dioxide") {
				return 0.8
			}
			return 0.2
		}), WeighOptions{})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, v := range r.Verdicts {
			got = append(got, v.Conflict+" "+v.Verdict)
			if absent := len(p.Factors[0].Levels) == 2 && v.Conflict == "carbon-dioxide"; absent != (v.Why == "its level is not in the trial") {
				t.Errorf("%d dishes: %+v", tt.dishes, v)
			}
		}
		if strings.Join(got, ", ") != tt.want {
			t.Errorf("%d dishes: %q, want %q", tt.dishes, got, tt.want)
		}
	}
}

package odds_test

import (
	"math"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
)

// The plan's power is that of the t test on dish fractions: 40,000 trials in R
// (standard error 0.0025), 4,000 here (0.006).
func TestPlanPower(t *testing.T) {
	for _, tt := range []struct {
		base, difference float64
		eggs             int
		rho              float64
		dishes           int
		want             float64
	}{{0.3, 0.2, 25, 0.05, 9, 0.790}, {0.3, 0.2, 50, 0.05, 7, 0.769}, {0.3, 0.2, 25, 0, 4, 0.693}, {0.2, 0.3, 20, 0.1, 6, 0.758}} {
		p, err := design.New(design.Request{Eggs: 2 * tt.dishes * tt.eggs, KeepBack: new(0), Dishes: 2 * tt.dishes, EggsPerDish: tt.eggs, Start: trialtest.Start,
			BaseFraction: tt.base, Difference: tt.difference, Rho: &tt.rho, Factors: []trial.Factor{trialtest.Factor(t, "drying=0,14")}})
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Power[0].Power; len(p.Dishes) != 2*tt.dishes || math.Abs(got-tt.want) > 0.025 {
			t.Errorf("%+v: power %v in %d dishes", tt, got, len(p.Dishes))
		}
	}
}

// With one chamber for each temperature no difference can be tested, and that none
// hatch at one of them can never be shown, though that some do can: the mean over
// the sides hides what the least tells.
func TestOneChamberEach(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	p := trialtest.Plan(t, design.Request{Eggs: 240, Start: trialtest.Start, Chambers: []trial.Chamber{{Low: 12, High: 12}, {Low: 20, High: 20}},
		Questions: []trial.Question{{ID: "q", Kind: trial.KindOpposed, Factor: evidence.WarmTemperature, Unit: "degC", Levels: []trial.Level{
			{Value: n(12)}, {Value: n(20), Side: 1, Bearing: evidence.Favours}, {Value: n(20), Side: 2, Bearing: evidence.Prevents}}}}})
	if w := p.Power[0]; !w.Untestable || w.Power != 0 {
		t.Errorf("power %+v", w)
	}
	s := p.Settles[0]
	if len(s.Sides) != 2 || s.Sides[0].Side != "20 °C, favours" || s.Sides[0].Chance < 0.9 || s.Sides[1].Chance != 0 || s.Least() != 0 {
		t.Errorf("settles %+v", s)
	}
	if math.Abs(s.Chance-s.Sides[0].Chance/2) > 0.001 {
		t.Errorf("%v is not the mean of %+v", s.Chance, s.Sides)
	}
}

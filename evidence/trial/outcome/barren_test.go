package outcome

import (
	"math/rand/v2"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
)

// Eggs that hatch after a long treatment only are what a keeper mostly counts: dishes
// in which none hatch do not differ, and must not make those look surer in which eggs
// do. With three of five levels barren a spread taken over all dishes calls two levels
// that hatch alike different in .22 of trials, and Pearson's dispersion finds a light
// that does nothing in .10 to .20.
func TestBarrenLevelsKeepTheSize(t *testing.T) {
	for _, tt := range []struct {
		drying    string
		rho, most float64
	}{{"drying=0,28,60", 0.05, 0.08}, {"drying=0,3,7,28,60", 0.05, 0.08}, {"drying=0,3,7,28,60", 0.2, 0.09}} {
		p := trialtest.Plan(t, design.Request{Taxon: "Nova alba", KeepBack: new(0), Start: trialtest.Start, Seed: 3, Eggs: 480,
			Factors: []trial.Factor{trialtest.Factor(t, tt.drying), trialtest.Factor(t, "light=dark,12:12")}})
		levels := p.Factors[0].Levels
		n := len(levels)
		r := rand.New(rand.NewPCG(1, 2))
		const trials = 800
		verdicts, models := 0, 0
		for range trials {
			dishes := hatchWhere(p, 0.4, tt.rho, r, func(d trial.Dish) bool { return d.Levels[evidence.Drying].Number >= 28 })
			if c := caseOf(p, dishes, false).ContrastAt(0, levels[n-2:n-1], levels[n-1:], 0.95); c.Interval.Low > 0 || c.Interval.High < 0 {
				verdicts++
			}
			var res Result
			if err := res.fit([]string{"drying", "light"}, p.Factors, dishes, WeighOptions{}, p); err != nil {
				t.Fatal(err)
			}
			if res.Model.Kind != BiasReduced {
				t.Fatalf("%s: the model is %s", tt.drying, res.Model.Kind)
			}
			if res.Model.Tests[1].P < 0.05 {
				models++
			}
		}
		verdict, model := float64(verdicts)/trials, float64(models)/trials
		t.Logf("%s, likeness %v, %d dishes of %d: 28 d against 60 d found in %.3f by the verdict's interval, light in %.3f by the model", tt.drying, tt.rho, len(p.Dishes), p.Dishes[0].Eggs, verdict, model)
		if verdict > tt.most || model > tt.most || verdict < 0.025 || model < 0.02 {
			t.Errorf("%s, likeness %v: sizes %v and %v", tt.drying, tt.rho, verdict, model)
		}
	}
}

// hatchWhere draws counts of a plan of which the dishes named hatch with a chance, and
// the others not at all.
func hatchWhere(p *trial.Plan, chance, rho float64, r *rand.Rand, hatch func(trial.Dish) bool) (dishes []counts.Dish) {
	for k, d := range p.Dishes {
		c := counts.Dish{Name: d.Label, Control: d.Control, Eggs: d.Eggs, Planned: k}
		for _, f := range p.Factors {
			c.Levels = append(c.Levels, d.Levels[f.ID])
		}
		own := 0.0
		if hatch(d) {
			own = spread.DrawBeta(chance, rho, r)
		}
		for range d.Eggs {
			if r.Float64() < own {
				c.Hatched++
			}
		}
		dishes = append(dishes, c)
	}
	return dishes
}

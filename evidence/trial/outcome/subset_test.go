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

// Eggs that hatch only where two conditions come together make no third factor
// look effective in parts of the factorial, though least squares spreads over all
// factors what the two do together. Single parts may be unlucky; over those that
// the seed draws, no more than one comparison of twenty errs.
func TestTogetherIsNoEffectOfAThird(t *testing.T) {
	const seeds, trials = 8, 60
	found := map[evidence.Factor]float64{}
	for seed := range uint64(seeds) {
		req := design.Request{Taxon: "Nova alba", Eggs: 300, Start: trialtest.Start, Seed: seed}
		for _, f := range []string{"drying=0,30,60", "stratification-length=0,28,84", "conductivity=300,2200,3500", "trigger=flooding,salinity-drop,temperature-rise"} {
			req.Factors = append(req.Factors, trialtest.Factor(t, f))
		}
		p := trialtest.Plan(t, req)
		if p.Design.Kind != trial.Optimal {
			t.Fatalf("the plan is a %s", p.Design.Kind)
		}
		r := rand.New(rand.NewPCG(seed, 2))
		for range trials {
			judged := caseOf(p, hatchTogether(p, r), false)
			for i, f := range p.Factors {
				if c := judged.ContrastAt(i, f.Levels[:1], f.Levels[2:], 0.95); c.Tested && (c.Interval.Low > 0 || c.Interval.High < 0) {
					found[f.ID] += 1.0 / seeds / trials
				}
			}
		}
	}
	t.Logf("share of trials in which each is found: %.3v", found)
	if share := (found[evidence.Conductivity] + found[evidence.Trigger]) / 2; share > 0.07 {
		t.Errorf("factors that do nothing are found in %.3f of trials", share)
	}
	if found[evidence.ColdLength] < 0.5 || found[evidence.Drying] < 0.5 {
		t.Error("what matters is not found: the check has no teeth")
	}
}

// hatchTogether draws counts of eggs that hatch only after drying and cold.
func hatchTogether(p *trial.Plan, r *rand.Rand) (dishes []counts.Dish) {
	for k, d := range p.Dishes {
		c := counts.Dish{Name: d.Label, Control: d.Control, Eggs: d.Eggs, Planned: k}
		for _, f := range p.Factors {
			c.Levels = append(c.Levels, d.Levels[f.ID])
		}
		chance := 0.02
		if d.Levels[evidence.ColdLength].Number > 0 && d.Levels[evidence.Drying].Number > 0 {
			chance = 0.7
		}
		own := spread.DrawBeta(chance, p.Odds.Rho, r)
		for range d.Eggs {
			if r.Float64() < own {
				c.Hatched++
			}
		}
		dishes = append(dishes, c)
	}
	return dishes
}

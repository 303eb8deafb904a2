package outcome

import (
	"math/rand/v2"
	"strconv"
	"testing"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
	"hatchlore/evidence/trial/verdict"
)

// smallClutches plans a trial with twelve clutches that differ much and are too
// small for every treatment.
func smallClutches(t *testing.T, eggs int, factors ...string) *trial.Plan {
	t.Helper()
	req := design.Request{Taxon: "Nova alba", KeepBack: new(0), Start: trialtest.Start, Seed: 3}
	for k := range 12 {
		req.Lots = append(req.Lots, trial.Lot{Clutch: strconv.Itoa(k), Eggs: eggs})
	}
	for _, f := range factors {
		req.Factors = append(req.Factors, trialtest.Factor(t, f))
	}
	p := trialtest.Plan(t, req)
	if !p.Design.IncompleteBlocks {
		t.Fatalf("clutches of %d eggs hold every treatment", eggs)
	}
	return p
}

// Where clutches hold some of the treatments each and differ by up to 40 per cent
// points, what differs between them passes for no effect: model and verdict call
// one of twenty trials without effect different.
func TestIncompleteBlocksKeepTheSize(t *testing.T) {
	const trials = 500
	for _, p := range []*trial.Plan{smallClutches(t, 12, "drying=0,14", "light=dark,12:12"), smallClutches(t, 12, "drying=0,14,60")} {
		r := rand.New(rand.NewPCG(1, 2))
		var names []string
		for _, f := range p.Factors {
			names = append(names, string(f.ID))
		}
		byModel, byDishes := 0, 0
		for range trials {
			dishes := hatchDishes(p, steps(0.35, 0.35), 0.05, r)
			var res Result
			if err := res.fit(names, p.Factors, dishes, WeighOptions{}, p); err != nil {
				t.Fatal(err)
			}
			if res.Model.Tests[0].P < 0.05 {
				byModel++
			}
			levels := p.Factors[0].Levels
			if c := caseOf(p, dishes, false).ContrastAt(0, levels[:1], levels[1:2], 0.95); c.Interval.Low > 0 || c.Interval.High < 0 {
				byDishes++
			}
		}
		model, contrast := float64(byModel)/trials, float64(byDishes)/trials
		t.Logf("%d dishes of %d eggs: size of the model's test %.3f, of the verdict's %.3f", len(p.Dishes), p.Dishes[0].Eggs, model, contrast)
		if model > 0.08 || contrast > 0.08 || contrast < 0.02 {
			t.Errorf("sizes %v and %v", model, contrast)
		}
	}
}

// Whether a level hatches eggs or none is said with the likeness that its dishes
// show, where that is more than the plan supposed: at the very bounds, of 5 and 15 %,
// the judge errs in no more than one of forty trials.
func TestFractionsAreNotOversure(t *testing.T) {
	const trials = 600
	for _, eggs := range []int{80, 320} {
		p := trialtest.Plan(t, design.Request{Taxon: "Nova alba", Eggs: eggs, KeepBack: new(0), Start: trialtest.Start, Seed: 3, Factors: []trial.Factor{trialtest.Factor(t, "drying=0,14")}})
		none := []trial.Setting{trial.Num(0)}
		for _, rho := range []float64{0.05, 0.3} {
			r := rand.New(rand.NewPCG(1, 2))
			some, few := 0, 0
			for range trials {
				if verdict.SomeHatch(caseOf(p, hatchDishes(p, steps(0.05, 0.3, none...), rho, r), false).Fraction(0, none)) {
					some++
				}
				if verdict.NoneHatch(caseOf(p, hatchDishes(p, steps(0.15, 0.3, none...), rho, r), false).Fraction(0, none)) {
					few++
				}
			}
			t.Logf("%d eggs, likeness %.2f supposed 0.05: of 5 %% 'eggs hatch' %.4f; of 15 %% 'next to none' %.4f", eggs, rho, float64(some)/trials, float64(few)/trials)
			if most := 0.025 * trials * 1.8; float64(some) > most || float64(few) > most {
				t.Errorf("%d and %d of %d", some, few, trials)
			}
		}
	}
}

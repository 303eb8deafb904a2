package odds

import (
	"fmt"
	"math/rand/v2"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/verdict"
)

// Arena simulates the counts of a plan's dishes under its suppositions.
type Arena struct {
	plan          *trial.Plan
	judge         *verdict.Judge
	base, shifted float64
	samplers      map[drawn]*spread.Sampler
	seed          uint64
	rounds        int
}

// drawn is what a sampler draws: eggs of a dish, each with a chance.
type drawn struct {
	eggs   int
	chance float64
}

// mostWork bounds the multiplications that the simulation of one comparison may
// take; large layouts are simulated fewer times, but never fewer than fewestRounds.
const (
	mostWork     = 5e7
	fewestRounds = 300
)

// New makes an arena in which every chance is worked out from so many simulated
// trials. Of the plan it needs factors, questions, runs, suppositions, and of the
// dishes what stands where. It refuses layouts in which nothing is left to measure
// chance by, and a difference that does not fit between 0 and 1.
func New(p *trial.Plan, seed uint64, trials int) (*Arena, error) {
	o := p.Odds
	a := &Arena{plan: p, base: o.BaseFraction, shifted: o.BaseFraction + o.Difference, samplers: map[drawn]*spread.Sampler{}, seed: seed}
	if a.shifted >= 1 {
		a.shifted = o.BaseFraction - o.Difference
	}
	if a.shifted <= 0 {
		return nil, fmt.Errorf("from a base fraction of %v no difference of %v fits between 0 and 1: make the difference smaller", o.BaseFraction, o.Difference)
	}
	a.judge = verdict.Planned(p)
	df, err := a.judge.DF()
	switch {
	case err != nil:
		return nil, err
	case df < 1:
		return nil, fmt.Errorf("the layout leaves nothing to measure chance by: use more dishes")
	}
	n := len(p.Dishes)
	work := n * (n - df + 1)
	a.rounds = max(fewestRounds, min(trials, int(mostWork/float64(2*work))))
	return a, nil
}

// generator is a stream of chance for factor i.
func (a *Arena) generator(i int) *rand.Rand {
	const stream = 0x706f776572
	return rand.New(rand.NewPCG(a.seed, stream+uint64(i)))
}

// world says with what chance eggs hatch at each setting of the factor in
// question.
type world func(trial.Setting) float64

// simulate lets the judge hear trials of a world in which factor i alone matters,
// and returns the share of them that it finds.
func (a *Arena) simulate(i int, w world, found func(verdict.Case) bool) (float64, error) {
	drawing := a.drawDishes
	if a.plan.Factors[i].WholePlot {
		drawing = a.drawUnits
	}
	draw, err := drawing(i, w)
	if err != nil {
		return 0, err
	}
	r := a.generator(i)
	counts := make([]stat.Count, len(a.plan.Dishes))
	n := 0
	for range a.rounds {
		draw(counts, r)
		if found(a.judge.Hear(counts, false)) {
			n++
		}
	}
	return float64(n) / float64(a.rounds), nil
}

// drawDishes draws each dish by itself.
func (a *Arena) drawDishes(i int, w world) (func([]stat.Count, *rand.Rand), error) {
	of := make([]*spread.Sampler, len(a.plan.Dishes))
	for k, d := range a.plan.Dishes {
		var err error
		if of[k], err = a.sampler(drawn{d.Eggs, w(d.Levels[a.plan.Factors[i].ID])}); err != nil {
			return nil, err
		}
	}
	return func(counts []stat.Count, r *rand.Rand) {
		for k, d := range a.plan.Dishes {
			counts[k] = stat.Count{Hatched: of[k].Draw(r), Eggs: d.Eggs}
		}
	}, nil
}

func (a *Arena) sampler(d drawn) (*spread.Sampler, error) {
	if s, ok := a.samplers[d]; ok {
		return s, nil
	}
	s, err := spread.BetaBinomial{N: d.eggs, P: d.chance, Rho: a.plan.Odds.Rho}.Sampler()
	if err == nil {
		a.samplers[d] = s
	}
	return s, err
}

// drawUnits draws the units of a factor that is set for chamber runs, which are
// taken to differ as much as dishes do, and then their dishes.
func (a *Arena) drawUnits(i int, w world) (func([]stat.Count, *rand.Rand), error) {
	id, rho := a.plan.Factors[i].ID, a.plan.Odds.Rho
	runs := a.plan.AllRuns()
	unit, settings := a.plan.Units(id, runs), a.plan.RunSettings(runs, id)
	chance := make([]float64, len(runs))
	return func(counts []stat.Count, r *rand.Rand) {
		seen := -1
		for k, u := range unit {
			if u > seen { // units are numbered as they come
				chance[u], seen = spread.DrawBeta(w(settings[k]), rho, r), u
			}
		}
		for k, d := range a.plan.Dishes {
			p := spread.DrawBeta(chance[unit[d.Run-1]], rho, r)
			counts[k] = stat.Count{Eggs: d.Eggs}
			for range d.Eggs {
				if r.Float64() < p {
					counts[k].Hatched++
				}
			}
		}
	}, nil
}

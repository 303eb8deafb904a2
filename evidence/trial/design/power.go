package design

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
)

// Simulated trials of the plan, and of each layout while choosing among them:
// they bound the standard error of a chance to 0.008 and 0.016.
const (
	simulations   = 4000
	trySimulation = 1000
)

// arena simulates the outcome of a layout under the plan's suppositions.
type arena struct {
	dealt
	base, shifted float64
	rho           float64
	space         *stat.ErrorSpace
	low, high     *stat.Sampler
	seed          uint64
	trials        int
}

// weigh adds power and the chance of settling each question to the plan.
func (s *settled) weigh(p *trial.Plan, b dealt) error {
	a, err := s.arena(b, simulations)
	if err != nil {
		return err
	}
	for i, f := range b.factors {
		for _, to := range f.Levels[1:] {
			found, err := a.finds(i, f.Levels[:1], []trial.Setting{to}, 0.05)
			if err != nil {
				return err
			}
			p.Power = append(p.Power, trial.Power{Factor: f.ID, From: f.Levels[0], To: to, Difference: math.Abs(a.shifted - a.base), Power: round3(found.right)})
		}
	}
	p.Questions = a.asked(s.Questions)
	p.Settles, err = a.settle(p.Questions)
	return err
}

func (s *settled) arena(b dealt, trials int) (*arena, error) {
	a := &arena{dealt: b, base: s.BaseFraction, shifted: s.BaseFraction + s.Difference, rho: s.rho, seed: s.Seed, trials: trials}
	if a.shifted >= 1 {
		a.shifted = s.BaseFraction - s.Difference
	}
	if a.shifted <= 0 {
		return nil, fmt.Errorf("from a base fraction of %v no difference of %v fits between 0 and 1: make the difference smaller", s.BaseFraction, s.Difference)
	}
	var err error
	if a.space, err = stat.NewErrorSpace(b.columns()); err != nil {
		return nil, err
	}
	if a.space.DF() < 1 {
		return nil, fmt.Errorf("the layout leaves nothing to measure chance by: use more dishes")
	}
	if a.low, err = (stat.BetaBinomial{N: b.eggsPerDish, P: a.base, Rho: a.rho}).Sampler(); err != nil {
		return nil, err
	}
	a.high, err = (stat.BetaBinomial{N: b.eggsPerDish, P: a.shifted, Rho: a.rho}).Sampler()
	return a, err
}

// columns is the model whose remainder measures chance: every treatment, chamber
// run and lot has a mean of its own.
func (b dealt) columns() [][]float64 {
	var out [][]float64
	mark := func(n int, of func(slot) int) {
		for v := range n {
			c := make([]float64, len(b.slots))
			for i, at := range b.slots {
				if of(at) == v {
					c[i] = 1
				}
			}
			out = append(out, c)
		}
	}
	mark(len(b.treatments), func(at slot) int { return at.treatment })
	mark(len(b.runs), func(at slot) int { return at.run })
	if lots := slices.Max(b.lotOfSet) + 1; lots > 1 {
		mark(lots, func(at slot) int { return b.lotOfSet[at.set] })
	}
	return out
}

// chances are the shares of simulated trials that found a difference in the
// right direction where there was one, and that ruled it out where there was none.
type chances struct{ right, ruledOut float64 }

// finds simulates the comparison of factor i between two groups of its levels.
func (a *arena) finds(i int, from, to []trial.Setting, alpha float64) (chances, error) {
	if a.factors[i].WholePlot {
		return a.findsBetweenRuns(i, from, to, alpha)
	}
	w := a.weights(i, from, to)
	if w == nil {
		return chances{}, nil
	}
	r := generator(a.seed, streamPower+uint64(i))
	return a.simulate(w, a.space, alpha, func(at slot, shift bool) float64 {
		if shift && slices.Contains(to, a.treatments[at.treatment].Settings[i]) {
			return float64(a.high.Draw(r)) / float64(a.eggsPerDish)
		}
		return float64(a.low.Draw(r)) / float64(a.eggsPerDish)
	}), nil
}

// weights turns dishes into the difference between two groups of levels, as the
// verdicts do. The added control is no part of it. Nil: a group has no dish.
func (a *arena) weights(i int, from, to []trial.Setting) trial.Weights {
	var all [][]trial.Setting
	var control []bool
	var own []trial.Setting
	for _, at := range a.slots {
		t := a.treatments[at.treatment]
		all, control, own = append(all, t.Settings), append(control, t.Control), append(own, trial.OwnSetting(t.Settings[i], t.Control))
	}
	if a.design.Kind == trial.Optimal {
		return trial.EffectWeights(plain(a.factors), all, control, i, from, to)
	}
	return trial.GroupWeights(own, nil, from, to)
}

// mostWork bounds the multiplications that the simulation of one comparison may
// take; large layouts are simulated fewer times.
const mostWork = 1.5e8

func (a *arena) rounds(space *stat.ErrorSpace) int {
	work := float64(2 * len(a.slots) * (space.Rank() + 1))
	return max(300, min(a.trials, int(mostWork/work)))
}

// simulate draws outcomes with and without the difference and judges each by
// the interval of the contrast w on the space's degrees of freedom.
func (a *arena) simulate(w trial.Weights, space *stat.ErrorSpace, alpha float64, outcome func(at slot, shift bool) float64) chances {
	crit := stat.StudentQuantile(1-alpha/2, float64(space.DF()))
	sign := math.Copysign(1, a.shifted-a.base)
	size := math.Abs(a.shifted - a.base)
	scale := w.Norm() / math.Sqrt(float64(space.DF()))
	y := make([]float64, len(a.slots))
	var found, ruledOut int
	rounds := a.rounds(space)
	for range rounds {
		for _, shift := range []bool{true, false} {
			for k, at := range a.slots {
				y[k] = outcome(at, shift)
			}
			d, half := sign*w.Of(y), crit*scale*math.Sqrt(space.RSS(y))
			if shift && d-half > 1e-9 {
				found++
			}
			if !shift && d+half < size && d-half > -size {
				ruledOut++
			}
		}
	}
	return chances{float64(found) / float64(rounds), float64(ruledOut) / float64(rounds)}
}

// findsBetweenRuns tests a chamber temperature against the differences between
// runs at one temperature. Runs are taken to differ as much as dishes do. With
// one run per temperature there is no such difference to see, and no test.
func (a *arena) findsBetweenRuns(i int, from, to []trial.Setting, alpha float64) (chances, error) {
	space, err := stat.NewErrorSpace(a.runColumns())
	if err != nil {
		return chances{}, err
	}
	w := a.weights(i, from, to)
	if w == nil || space.DF() < 1 {
		return chances{}, nil
	}
	r := generator(a.seed, streamPower+uint64(i))
	b := &arena{dealt: a.dealt, base: a.base, shifted: a.shifted, trials: a.trials}
	b.slots = make([]slot, len(a.runs)) // one outcome a run: its mean
	rw := make(trial.Weights, len(a.runs))
	dishes := make([]int, len(a.runs))
	for k, at := range a.slots {
		rw[at.run] += w[k]
		if dishes[at.run]++; dishes[at.run] == 1 {
			b.slots[at.run] = at
		}
	}
	return b.simulate(rw, space, alpha, func(at slot, shift bool) float64 {
		p := a.base
		if shift && slices.Contains(to, a.treatments[at.treatment].Settings[i]) {
			p = a.shifted
		}
		return a.runMean(p, dishes[at.run], r)
	}), nil
}

// runColumns gives each combination of whole-plot settings a mean over its runs.
func (a *arena) runColumns() [][]float64 {
	var out [][]float64
	for k, run := range a.runs {
		for len(out) <= run.plot {
			out = append(out, make([]float64, len(a.runs)))
		}
		out[run.plot][k] = 1
	}
	return out
}

func (a *arena) runMean(p float64, dishes int, r *rand.Rand) float64 {
	pr := stat.DrawBeta(p, a.rho, r)
	hatched := 0
	for range dishes {
		pd := stat.DrawBeta(pr, a.rho, r)
		for range a.eggsPerDish {
			if r.Float64() < pd {
				hatched++
			}
		}
	}
	return float64(hatched) / float64(dishes*a.eggsPerDish)
}

func round3(x float64) float64 { return math.Round(1000*x) / 1000 }

package odds

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
)

// Layout is what the power of a trial depends on: which treatment each dish
// has, in which chamber run and block it stands.
type Layout struct {
	Factors     []trial.Factor
	Optimal     bool // a subset whose effects overlap: they are taken apart by least squares
	Treatments  []Treatment
	Dishes      []Dish
	Plots       []int // of each chamber run: which combination of whole-plot settings it has, from 0
	EggsPerDish int
}

// Treatment is one combination of settings, one for each factor.
type Treatment struct {
	Settings []trial.Setting
	Control  bool // the untreated eggs added beside the factorial
}

// Dish says by index which treatment a dish has, and its chamber run and block.
type Dish struct{ Treatment, Run, Block int }

// Arena simulates the outcome of a layout under a plan's suppositions.
type Arena struct {
	factors       []trial.Factor
	optimal       bool
	treatments    []Treatment
	dishes        []Dish
	plots         []int
	eggsPerDish   int
	base, shifted float64
	rho           float64
	space         *linear.ErrorSpace
	low, high     *spread.Sampler
	seed          uint64
	trials        int
}

// New makes an arena in which every chance is worked out from so many simulated
// trials. It refuses layouts in which nothing is left to measure chance by, and
// a difference that does not fit between 0 and 1.
func New(l Layout, o trial.Odds, seed uint64, trials int) (*Arena, error) {
	a := &Arena{factors: l.Factors, optimal: l.Optimal, treatments: l.Treatments, dishes: l.Dishes, plots: l.Plots, eggsPerDish: l.EggsPerDish,
		base: o.BaseFraction, shifted: o.BaseFraction + o.Difference, rho: o.Rho, seed: seed, trials: trials}
	if a.shifted >= 1 {
		a.shifted = o.BaseFraction - o.Difference
	}
	if a.shifted <= 0 {
		return nil, fmt.Errorf("from a base fraction of %v no difference of %v fits between 0 and 1: make the difference smaller", o.BaseFraction, o.Difference)
	}
	var err error
	if a.space, err = linear.NewErrorSpace(a.columns()); err != nil {
		return nil, err
	}
	if a.space.DF() < 1 {
		return nil, fmt.Errorf("the layout leaves nothing to measure chance by: use more dishes")
	}
	if a.low, err = (spread.BetaBinomial{N: a.eggsPerDish, P: a.base, Rho: a.rho}).Sampler(); err != nil {
		return nil, err
	}
	a.high, err = (spread.BetaBinomial{N: a.eggsPerDish, P: a.shifted, Rho: a.rho}).Sampler()
	return a, err
}

// generator is a stream of chance for factor i.
func (a *Arena) generator(i int) *rand.Rand {
	const stream = 0x706f776572
	return rand.New(rand.NewPCG(a.seed, stream+uint64(i)))
}

// Powers returns the power of each level of each factor against its first.
func (a *Arena) Powers() ([]trial.Power, error) {
	var out []trial.Power
	for i, f := range a.factors {
		for _, to := range f.Levels[1:] {
			found, err := a.finds(i, f.Levels[:1], []trial.Setting{to}, 0.05)
			if err != nil {
				return nil, err
			}
			out = append(out, trial.Power{Factor: f.ID, From: f.Levels[0], To: to, Difference: math.Abs(a.shifted - a.base), Power: round3(found.right)})
		}
	}
	return out, nil
}

// Ends returns the power of the last level of factor i against its first.
func (a *Arena) Ends(i int) (float64, error) {
	levels := a.factors[i].Levels
	found, err := a.finds(i, levels[:1], levels[len(levels)-1:], 0.05)
	return found.right, err
}

// columns is the model whose remainder measures chance: every treatment, chamber
// run and lot has a mean of its own.
func (a *Arena) columns() [][]float64 {
	var out [][]float64
	mark := func(n int, of func(Dish) int) {
		for v := range n {
			c := make([]float64, len(a.dishes))
			for i, at := range a.dishes {
				if of(at) == v {
					c[i] = 1
				}
			}
			out = append(out, c)
		}
	}
	mark(len(a.treatments), func(at Dish) int { return at.Treatment })
	mark(len(a.plots), func(at Dish) int { return at.Run })
	blocks := 0
	for _, d := range a.dishes {
		blocks = max(blocks, d.Block+1)
	}
	if blocks > 1 {
		mark(blocks, func(at Dish) int { return at.Block })
	}
	return out
}

// chances are the shares of simulated trials that found a difference in the
// right direction where there was one, and that ruled it out where there was none.
type chances struct{ right, ruledOut float64 }

// finds simulates the comparison of factor i between two groups of its levels.
func (a *Arena) finds(i int, from, to []trial.Setting, alpha float64) (chances, error) {
	if a.factors[i].WholePlot {
		return a.findsBetweenRuns(i, from, to, alpha)
	}
	w := a.weights(i, from, to)
	if w == nil {
		return chances{}, nil
	}
	r := a.generator(i)
	return a.simulate(w, a.space, alpha, func(at Dish, shift bool) float64 {
		if shift && slices.Contains(to, a.treatments[at.Treatment].Settings[i]) {
			return float64(a.high.Draw(r)) / float64(a.eggsPerDish)
		}
		return float64(a.low.Draw(r)) / float64(a.eggsPerDish)
	}), nil
}

// weights turns dishes into the difference between two groups of levels, as the
// verdicts do. The added control is no part of it. Nil: a group has no dish.
func (a *Arena) weights(i int, from, to []trial.Setting) trial.Weights {
	var all [][]trial.Setting
	var control []bool
	var own []trial.Setting
	for _, at := range a.dishes {
		t := a.treatments[at.Treatment]
		all, control, own = append(all, t.Settings), append(control, t.Control), append(own, trial.OwnSetting(t.Settings[i], t.Control))
	}
	if a.optimal {
		return trial.EffectWeights(a.factors, all, control, i, from, to)
	}
	return trial.GroupWeights(own, nil, from, to)
}

// mostWork bounds the multiplications that the simulation of one comparison may
// take; large layouts are simulated fewer times.
const mostWork = 1.5e8

func (a *Arena) rounds(space *linear.ErrorSpace) int {
	work := float64(2 * len(a.dishes) * (space.Rank() + 1))
	return max(300, min(a.trials, int(mostWork/work)))
}

// simulate draws outcomes with and without the difference and judges each by
// the interval of the contrast w on the space's degrees of freedom.
func (a *Arena) simulate(w trial.Weights, space *linear.ErrorSpace, alpha float64, outcome func(at Dish, shift bool) float64) chances {
	crit := stat.StudentQuantile(1-alpha/2, float64(space.DF()))
	sign := math.Copysign(1, a.shifted-a.base)
	size := math.Abs(a.shifted - a.base)
	scale := w.Norm() / math.Sqrt(float64(space.DF()))
	y := make([]float64, len(a.dishes))
	var found, ruledOut int
	rounds := a.rounds(space)
	for range rounds {
		for _, shift := range []bool{true, false} {
			for k, at := range a.dishes {
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
func (a *Arena) findsBetweenRuns(i int, from, to []trial.Setting, alpha float64) (chances, error) {
	space, err := linear.NewErrorSpace(a.runColumns())
	if err != nil {
		return chances{}, err
	}
	w := a.weights(i, from, to)
	if w == nil || space.DF() < 1 {
		return chances{}, nil
	}
	r := a.generator(i)
	b := &Arena{base: a.base, shifted: a.shifted, trials: a.trials}
	b.dishes = make([]Dish, len(a.plots)) // one outcome a run: its mean
	rw := make(trial.Weights, len(a.plots))
	dishes := make([]int, len(a.plots))
	for k, at := range a.dishes {
		rw[at.Run] += w[k]
		if dishes[at.Run]++; dishes[at.Run] == 1 {
			b.dishes[at.Run] = at
		}
	}
	return b.simulate(rw, space, alpha, func(at Dish, shift bool) float64 {
		p := a.base
		if shift && slices.Contains(to, a.treatments[at.Treatment].Settings[i]) {
			p = a.shifted
		}
		return a.runMean(p, dishes[at.Run], r)
	}), nil
}

// runColumns gives each combination of whole-plot settings a mean over its runs.
func (a *Arena) runColumns() [][]float64 {
	var out [][]float64
	for k, plot := range a.plots {
		for len(out) <= plot {
			out = append(out, make([]float64, len(a.plots)))
		}
		out[plot][k] = 1
	}
	return out
}

func (a *Arena) runMean(p float64, dishes int, r *rand.Rand) float64 {
	pr := spread.DrawBeta(p, a.rho, r)
	hatched := 0
	for range dishes {
		pd := spread.DrawBeta(pr, a.rho, r)
		for range a.eggsPerDish {
			if r.Float64() < pd {
				hatched++
			}
		}
	}
	return float64(hatched) / float64(dishes*a.eggsPerDish)
}

func round3(x float64) float64 { return math.Round(1000*x) / 1000 }

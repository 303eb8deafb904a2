package outcome

import (
	"fmt"
	"math"
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
)

// contrast is the difference of the hatched fraction between two groups of
// levels, by dishes, with its interval.
type contrast struct {
	difference float64
	interval   stat.Interval
	tested     bool // there was something to measure chance by
}

// comparison is what a contrast is worked out from: outcomes, the weights that
// make the difference of them, and what is left of them to measure chance by.
type comparison struct {
	outcomes []float64
	weights  trial.Weights // nil: a group was not counted
	space    *linear.ErrorSpace
	byDish   trial.Weights // the same difference in weights on dishes
}

// contrast compares two groups of levels of factor i by the dishes' fractions,
// over the treatments' means, against the spread of dishes treated alike; a
// chamber temperature against the spread of its runs.
func (j judge) contrast(i int, from, to []trial.Setting) contrast {
	compare := j.betweenDishes
	if j.p.Factors[i].WholePlot {
		compare = j.betweenRuns
	}
	c, err := compare(i, from, to)
	if err != nil || c.weights == nil {
		return contrast{difference: math.NaN()}
	}
	out := contrast{difference: c.weights.Of(c.outcomes)}
	df := float64(c.space.DF())
	if df < 1 {
		return out
	}
	rss := c.space.RSS(c.outcomes)
	spread := math.Sqrt(rss/df) * c.weights.Norm()
	if j.tooAlike || rss < 1e-12 { // no spread seen is not none there
		spread = max(spread, math.Sqrt(independentVariance(c.byDish, j.dishes)))
	}
	half := stat.StudentQuantile(1-(1-j.level)/2, df) * spread
	out.interval, out.tested = stat.Interval{Low: out.difference - half, High: out.difference + half}, true
	return out
}

func (j judge) betweenRuns(i int, from, to []trial.Setting) (c comparison, err error) {
	runs, means := runMeans(j.p, j.dishes)
	c.outcomes = means
	c.weights = trial.GroupWeights(j.p.RunSettings(runs, j.p.Factors[i].ID), nil, from, to)
	c.space, err = linear.NewErrorSpace(linear.Indicators(j.p.PlotKeys(runs)))
	if c.weights == nil {
		return c, err
	}
	for _, d := range j.dishes {
		at := j.p.Dishes[d.Planned].Run - 1
		share := c.weights[slices.Index(runs, at)] / float64(countIn(j.p, j.dishes, at))
		c.byDish = append(c.byDish, share)
	}
	return c, err
}

// countIn is how many counted dishes stand in a run.
func countIn(p *trial.Plan, dishes []counts.Dish, run int) (n int) {
	for _, d := range dishes {
		if p.Dishes[d.Planned].Run-1 == run {
			n++
		}
	}
	return n
}

func (j judge) betweenDishes(i int, from, to []trial.Setting) (c comparison, err error) {
	var cells, runs, blocks []string
	var settings []trial.Setting
	for _, d := range j.dishes {
		planned := j.p.Dishes[d.Planned]
		c.outcomes = append(c.outcomes, float64(d.Hatched)/float64(d.Eggs))
		cells, runs, blocks = append(cells, cellOf(d)), append(runs, fmt.Sprint(planned.Run)), append(blocks, planned.Block())
		settings = append(settings, trial.OwnSetting(d.Levels[i], d.Control))
	}
	if c.weights = trial.GroupWeights(settings, cells, from, to); j.p.Design.Kind == trial.Optimal {
		c.weights = j.effectWeights(i, from, to)
	}
	c.byDish = c.weights
	c.space, err = linear.NewErrorSpace(slices.Concat(linear.Indicators(cells), linear.Indicators(runs), linear.Indicators(blocks)))
	return c, err
}

func (j judge) effectWeights(i int, from, to []trial.Setting) trial.Weights {
	var settings [][]trial.Setting
	var control []bool
	for _, d := range j.dishes {
		settings, control = append(settings, d.Levels), append(control, d.Control)
	}
	return trial.EffectWeights(j.p.Factors, settings, control, i, from, to)
}

func (c contrast) words() string {
	if math.IsNaN(c.difference) {
		return "one of the levels was not counted"
	}
	if !c.tested {
		return fmt.Sprintf("%+.0f per cent points, without anything to measure chance by", 100*c.difference)
	}
	return fmt.Sprintf("%+.0f per cent points (%+.0f to %+.0f)", 100*c.difference, 100*c.interval.Low, 100*c.interval.High)
}

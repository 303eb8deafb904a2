package verdict

import (
	"fmt"
	"math"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/trial"
)

// Contrast is the difference of the hatched fraction between two groups of
// levels, with its interval.
type Contrast struct {
	Difference float64 // NaN: it cannot be told from the dishes
	Interval   stat.Interval
	Tested     bool // there was something to measure chance by

	DF      int     // degrees of freedom of the test
	spread  float64 // standard error
	crit    float64 // quantile of Student's t
	between bool    // chamber runs rather than dishes
}

// T is the difference over its standard error.
func (d Contrast) T() float64 { return d.Difference / d.spread }

// Contrast compares two groups of levels of factor i by the dishes' fractions,
// over the treatments' means, against the spread of the dishes treated alike at
// these levels; a chamber temperature against the spread of its units. The interval
// has the level of the judge.
func (c Case) Contrast(i int, from, to []trial.Setting) Contrast {
	return c.ContrastAt(i, from, to, c.level)
}

// ContrastAt is Contrast with an interval of the given level.
func (c Case) ContrastAt(i int, from, to []trial.Setting, level float64) Contrast {
	none := Contrast{Difference: math.NaN()}
	cmp, err := c.compare(i, from, to)
	if err != nil || cmp.weights == nil {
		return none
	}
	y := cmp.outcomes(c.counts)
	out := Contrast{Difference: linear.Dot(cmp.weights, y), between: c.plan.Factors[i].WholePlot}
	v, df := cmp.variance(y)
	if out.DF = df; df < 1 {
		return out
	}
	out.spread = math.Sqrt(v)
	if c.tooAlike || v < 1e-12 { // no spread seen is not none there
		out.spread = max(out.spread, math.Sqrt(c.independentVariance(cmp)))
	}
	out.crit = cmp.crit(quantile{level, df})
	half := out.crit * out.spread
	out.Interval, out.Tested = stat.Interval{Low: out.Difference - half, High: out.Difference + half}, true
	return out
}

// independentVariance is the variance of a difference where every egg hatches by
// itself. The fraction of a treatment that is all or nothing is taken half an egg
// off its end, so that certainty has a width.
func (c Case) independentVariance(cmp *comparison) float64 {
	cells := map[int]stat.Count{}
	for k, n := range c.counts {
		all := cells[c.cells[k]]
		cells[c.cells[k]] = stat.Count{Hatched: all.Hatched + n.Hatched, Eggs: all.Eggs + n.Eggs}
	}
	var sum float64
	for k, n := range c.counts {
		all := cells[c.cells[k]]
		p := (float64(all.Hatched) + 0.5) / (float64(all.Eggs) + 1)
		w := cmp.weights[cmp.unit[k]] * cmp.share[k]
		sum += w * w * p * (1 - p) / float64(n.Eggs)
	}
	return sum
}

func (d Contrast) words() string {
	if math.IsNaN(d.Difference) {
		return "the counted dishes do not tell it"
	}
	if !d.Tested {
		return fmt.Sprintf("%+.0f per cent points, without anything to measure chance by", 100*d.Difference)
	}
	return fmt.Sprintf("%+.0f per cent points (%+.0f to %+.0f)", 100*d.Difference, 100*d.Interval.Low, 100*d.Interval.High)
}

package verdict

import (
	"fmt"
	"math"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
)

// mostTimes is up to how many times the eggs of a trial it is worth saying that
// they would decide; fourFifths is the usual power (common practice, no source).
const (
	mostTimes  = 20
	fourFifths = 0.8
)

// wouldDo says how many eggs, in dishes as these, would find in four trials of
// five the smallest difference worth finding, or the one seen where these were
// enough for that; "" where there is nothing sensible to say.
func (c Case) wouldDo(d Contrast) string {
	if !d.Tested {
		return ""
	}
	reach := (d.crit + stat.NormalQuantile(fourFifths)) * d.spread
	size := c.plan.Odds.Difference
	if reach <= size {
		size = math.Abs(d.Difference)
	}
	times := reach * reach / (size * size)
	switch {
	case !(times > 1) || times > mostTimes:
		return ""
	case d.between:
		return fmt.Sprintf("; to find a difference of %.0f points would take about %.0f times as many chambers at each temperature, not more eggs", 100*size, math.Ceil(times))
	}
	eggs := 0
	for _, n := range c.counts {
		eggs += n.Eggs
	}
	return fmt.Sprintf("; to find a difference of %.0f points would take about %d eggs in dishes like these, not %d", 100*size, roundUp(times*float64(eggs)), eggs)
}

// wouldTell says how many eggs at levels of factor i would tell whether any hatch
// there, were their fraction the same; "" where they tell it already.
func (c Case) wouldTell(who string, i int, levels []trial.Setting) string {
	all, dishes := c.Count(i, levels)
	if dishes == 0 {
		return ""
	}
	each := all.Eggs / dishes
	for times := 1; times <= mostTimes; times++ {
		more := stat.Count{Hatched: times * all.Hatched, Eggs: times * all.Eggs}
		if in := c.interval(worth(more, each, c.likeness())); SomeHatch(in) || NoneHatch(in) {
			if times == 1 {
				return ""
			}
			return fmt.Sprintf("; whether eggs hatch %s, about %d of them would tell, not %d", who, more.Eggs, all.Eggs)
		}
	}
	return ""
}

// roundUp rounds a number of eggs up to tens: it is an estimate.
func roundUp(eggs float64) int { return 10 * int(math.Ceil(eggs/10)) }

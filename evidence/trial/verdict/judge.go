package verdict

import (
	"fmt"
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
)

// A Judge knows the dishes of a plan that were counted, and what can be told
// from them. It is made once for a plan and then hears as many counts as there
// are, one after the other.
type Judge struct {
	plan      *trial.Plan
	dishes    []trial.Dish // that were counted
	settings  [][]trial.Setting
	cells     []int // treatment of each dish, from 0
	level     float64
	compared  map[string]*comparison
	intervals map[stat.Count]stat.Interval
}

// New makes a judge for the plan's dishes with the given indices. It judges at
// 95 %, shared out over the questions of the plan, or over its factors where nothing
// was asked.
func New(p *trial.Plan, counted []int) *Judge {
	asked := len(p.Questions)
	if asked == 0 {
		asked = max(1, len(p.Factors))
	}
	j := &Judge{plan: p, level: 1 - 0.05/float64(asked), compared: map[string]*comparison{}, intervals: map[stat.Count]stat.Interval{}}
	var seen []string
	for _, k := range counted {
		d := p.Dishes[k]
		var own []trial.Setting
		for _, f := range p.Factors {
			own = append(own, d.Levels[f.ID])
		}
		cell := fmt.Sprint(d.Control, own)
		if !slices.Contains(seen, cell) {
			seen = append(seen, cell)
		}
		j.dishes, j.settings, j.cells = append(j.dishes, d), append(j.settings, own), append(j.cells, slices.Index(seen, cell))
	}
	return j
}

// Planned makes a judge for all dishes of a plan.
func Planned(p *trial.Plan) *Judge {
	all := make([]int, len(p.Dishes))
	for k := range all {
		all[k] = k
	}
	return New(p, all)
}

// Level returns the level at which questions are judged.
func (j *Judge) Level() float64 { return j.level }

// A Case is the counts of the dishes before the judge.
type Case struct {
	*Judge
	counts   []stat.Count
	tooAlike bool
}

// Hear takes the counts of the judge's dishes, in their order. Dishes that are
// too alike to be believed are taken for independent eggs.
func (j *Judge) Hear(counts []stat.Count, tooAlike bool) Case {
	return Case{Judge: j, counts: counts, tooAlike: tooAlike}
}

// Count sums the dishes at levels of factor i. The added control counts where its
// setting is among the levels.
func (c Case) Count(i int, levels []trial.Setting) (all stat.Count, dishes int) {
	for k := range c.dishes {
		if slices.Contains(levels, c.settings[k][i]) {
			dishes++
			all.Hatched += c.counts[k].Hatched
			all.Eggs += c.counts[k].Eggs
		}
	}
	return all, dishes
}

// likeness is the correlation of eggs within dishes, as the plan supposes or as the
// counts show, whichever is more.
func (c Case) likeness() float64 { return max(c.plan.Odds.Rho, likeness(c.counts, c.cells)) }

// Fraction returns the interval of the hatched fraction at levels of factor i,
// with as many eggs as their likeness within dishes leaves independent.
func (c Case) Fraction(i int, levels []trial.Setting) stat.Interval {
	all, dishes := c.Count(i, levels)
	if dishes == 0 {
		return stat.Interval{Low: 0, High: 1}
	}
	return c.interval(worth(all, all.Eggs/dishes, c.likeness()))
}

// interval is the exact interval of a fraction at the level of the judge; those of
// many simulated counts are the same.
func (j *Judge) interval(n stat.Count) stat.Interval {
	if in, ok := j.intervals[n]; ok {
		return in
	}
	in := stat.ClopperPearson(n, j.level)
	j.intervals[n] = in
	return in
}

// HatchesElsewhere reports whether eggs hatched for sure at levels of factor i
// other than these.
func (c Case) HatchesElsewhere(i int, levels []trial.Setting) bool {
	others := slices.DeleteFunc(c.plan.Factors[i].AllLevels(), func(l trial.Setting) bool { return slices.Contains(levels, l) })
	return SomeHatch(c.Fraction(i, others))
}

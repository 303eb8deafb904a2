package verdict

import (
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/trial"
)

// betweenUnits compares a factor that is set for chamber runs by its units. Other
// such factors are taken out where they are not the same in all units.
func (j *Judge) betweenUnits(i int, from, to []trial.Setting) (*comparison, error) {
	u := j.unitsOf(i)
	c := &comparison{unit: u.unit, share: u.share, units: len(u.runs)}
	var err error
	if c.space, err = linear.NewErrorSpace(slices.Concat(u.levels, u.others)); err != nil {
		return nil, err
	}
	if a := u.groups(from, to); a != nil {
		c.weights = contrastWeights(u.levels, a, u.others)
	}
	return c, nil
}

// units are the units in which a factor that is set for chamber runs is tested.
type units struct {
	unit           []int           // of each dish
	share          []float64       // of each dish in the outcome of its unit
	runs           []float64       // how many each unit has
	settings       []trial.Setting // that were counted
	levels, others [][]float64     // columns over units: of the settings, and of other such factors
}

func (j *Judge) unitsOf(i int) units {
	runs, f := j.runs(), j.plan.Factors[i]
	of := j.plan.Units(f.ID, runs)
	u := units{runs: make([]float64, slices.Max(append([]int{-1}, of...))+1)}
	for _, k := range of {
		u.runs[k]++
	}
	for _, d := range j.dishes {
		k := of[slices.Index(runs, d.Run-1)]
		u.unit = append(u.unit, k)
		u.share = append(u.share, 1/(u.runs[k]*float64(j.dishesIn(d.Run))))
	}
	settings := j.plan.RunSettings(runs, f.ID)
	for _, l := range f.Levels {
		if slices.Contains(settings, l) {
			u.settings, u.levels = append(u.settings, l), append(u.levels, u.column(settings, l, of))
		}
	}
	for k, g := range j.plan.Factors {
		if g.WholePlot && k != i {
			for _, l := range g.Levels[1:] {
				u.others = append(u.others, u.column(j.plan.RunSettings(runs, g.ID), l, of))
			}
		}
	}
	return u
}

// column says which part of the runs of each unit stood at a level.
func (u units) column(settings []trial.Setting, l trial.Setting, of []int) []float64 {
	out := make([]float64, len(u.runs))
	for r, s := range settings {
		if s == l {
			out[of[r]] += 1 / u.runs[of[r]]
		}
	}
	return out
}

// groups weights the levels of each group alike; nil when a group has none that
// was counted.
func (u units) groups(from, to []trial.Setting) []float64 {
	counted := func(group []trial.Setting) []trial.Setting {
		return slices.DeleteFunc(slices.Clone(group), func(l trial.Setting) bool { return !slices.Contains(u.settings, l) })
	}
	from, to = counted(from), counted(to)
	if len(from) == 0 || len(to) == 0 {
		return nil
	}
	var a []float64
	for _, l := range u.settings {
		a = append(a, share(to, l)-share(from, l))
	}
	return a
}

// TestUnits tests all levels of factor i, which is set for chamber runs, against
// the spread of its units; ok is false where nothing is left to measure that by.
func (c Case) TestUnits(i int) (t stat.TermTest, ok bool) {
	u := c.unitsOf(i)
	y := make([]float64, len(u.runs))
	for k, n := range c.counts {
		y[u.unit[k]] += u.share[k] * n.Fraction()
	}
	lines, err := linear.SequentialSums(y, []linear.Source{{Name: "others", Columns: u.others}, {Name: "own", Columns: u.levels}})
	if err != nil || lines[1].DF < 1 || lines[2].DF < 1 {
		return stat.TermTest{}, false
	}
	return linear.FTest(lines[1], lines[2]), true
}

// runs returns the chamber runs in which dishes were counted, as indices into
// the plan's.
func (j *Judge) runs() []int {
	var out []int
	for _, d := range j.dishes {
		if !slices.Contains(out, d.Run-1) {
			out = append(out, d.Run-1)
		}
	}
	slices.Sort(out)
	return out
}

// dishesIn is how many counted dishes stand in a run.
func (j *Judge) dishesIn(run int) (n int) {
	for _, d := range j.dishes {
		if d.Run == run {
			n++
		}
	}
	return n
}

package verdict

import (
	"fmt"
	"math"
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/trial"
)

// comparison is a difference between two groups of levels of a factor, ready to
// be worked out of any counts. A factor that is set for dishes is compared dish by
// dish; one that is set for chamber runs by what each of its units makes on
// average, see [trial.Plan.Units].
type comparison struct {
	unit    []int     // of each dish
	share   []float64 // of each dish in the outcome of its unit
	units   int
	weights []float64 // on units; nil: the dishes cannot tell the difference
	space   *linear.ErrorSpace
	own     *linear.ContrastError // of the difference, by the units in it; nil where one of these has no like
	effects *linear.ErrorSpace    // what the factors' own effects leave, where they are taken apart by least squares; else nil
	crits   map[quantile]float64  // of Student's t
	y       []float64             // of units: room for the outcomes
}

// quantile asks by how many standard errors an interval of the level reaches
// beyond a difference.
type quantile struct {
	level float64
	df    int
}

func (c *comparison) crit(q quantile) float64 {
	if t, ok := c.crits[q]; ok {
		return t
	}
	t := stat.StudentQuantile(1-(1-q.level)/2, float64(q.df))
	c.crits[q] = t
	return t
}

// variance is that of the difference, with its degrees of freedom: by the
// differences between the units in it that the model calls alike, each with its own
// spread. Units at other levels say nothing of these: where none hatch, none
// differ. Only where a unit has no like is the spread of all taken for it.
//
// Where the factors' own effects are taken apart by least squares, what two factors do
// together falls on others; how far the treatments depart from a sum of own effects
// then measures chance, if that is more.
func (c *comparison) variance(y []float64) (v float64, df int) {
	if df = c.space.DF(); df < 1 {
		return 0, df
	}
	if c.own != nil && c.effects == nil {
		return c.own.Variance(y), c.ownDF()
	}
	norm, rss := linear.Dot(c.weights, c.weights), c.space.RSS(y)
	v = norm * rss / float64(df)
	more := 0
	if c.effects != nil {
		more = c.effects.DF() - df
	}
	if c.own != nil {
		v, df = c.own.Variance(y), c.ownDF()
	}
	if more > 0 {
		if lack := norm * (c.effects.RSS(y) - rss) / float64(more); lack > v {
			return lack, more
		}
	}
	return v, df
}

// ownDF are the whole degrees of freedom of the difference's own variance.
func (c *comparison) ownDF() int { return max(1, int(c.own.DF()+1e-9)) }

// outcomes returns the hatched fraction of every unit, until it is called again.
func (c *comparison) outcomes(counts []stat.Count) []float64 {
	clear(c.y)
	for k, n := range counts {
		c.y[c.unit[k]] += c.share[k] * n.Fraction()
	}
	return c.y
}

// compare returns the comparison of two groups of levels of factor i. What
// differs between runs and between lots or clutches is taken out of it.
func (j *Judge) compare(i int, from, to []trial.Setting) (*comparison, error) {
	key := fmt.Sprint(i, from, to)
	if c, ok := j.compared[key]; ok {
		return c, nil
	}
	build := j.betweenDishes
	if j.plan.Factors[i].WholePlot {
		build = j.betweenUnits
	}
	c, err := build(i, from, to)
	if err != nil {
		return nil, err
	}
	c.crits = map[quantile]float64{}
	if c.weights != nil {
		c.own, _ = c.space.ContrastError(c.weights)
	}
	c.y = make([]float64, c.units)
	j.compared[key] = c
	return c, nil
}

// DF returns the degrees of freedom that the dishes leave to measure chance by:
// what remains of them beside treatments, chamber runs and lots or clutches.
func (j *Judge) DF() (int, error) {
	s, err := j.dishSpace()
	if err != nil {
		return 0, err
	}
	return s.DF(), nil
}

func (j *Judge) dishSpace() (*linear.ErrorSpace, error) {
	return linear.NewErrorSpace(slices.Concat(j.cellColumns(), j.blockColumns()))
}

// cellColumns gives each treatment a mean of its own.
func (j *Judge) cellColumns() [][]float64 {
	var out [][]float64
	for k, cell := range j.cells {
		for len(out) <= cell {
			out = append(out, make([]float64, len(j.cells)))
		}
		out[cell][k] = 1
	}
	return out
}

// blockColumns are what differs between chamber runs and between lots or
// clutches, whatever the treatment.
func (j *Judge) blockColumns() [][]float64 {
	var runs, blocks []string
	for _, d := range j.dishes {
		runs, blocks = append(runs, fmt.Sprint(d.Run)), append(blocks, d.Block())
	}
	return slices.Concat(linear.Indicators(runs), linear.Indicators(blocks))
}

// betweenDishes compares dish by dish: the means of the treatments, each with the
// same say however many of its dishes were counted.
func (j *Judge) betweenDishes(i int, from, to []trial.Setting) (*comparison, error) {
	c := &comparison{units: len(j.dishes)}
	for k := range j.dishes {
		c.unit, c.share = append(c.unit, k), append(c.share, 1)
	}
	var err error
	if c.space, err = j.dishSpace(); err != nil {
		return nil, err
	}
	columns, a := j.cellColumns(), j.cellGroups(i, from, to)
	if j.plan.Design.Kind == trial.Optimal || j.plan.Design.IncompleteBlocks {
		columns, a = j.effectColumns(), j.effectGroups(i, from, to)
		if c.effects, err = linear.NewErrorSpace(slices.Concat(columns, j.blockColumns())); err != nil {
			return nil, err
		}
	}
	if a != nil {
		c.weights = contrastWeights(columns, a, j.blockColumns())
	}
	return c, nil
}

// cellGroups weights the treatments of each group alike; nil when a group has
// none that was counted. The added control is in no group.
func (j *Judge) cellGroups(i int, from, to []trial.Setting) []float64 {
	a := make([]float64, slices.Max(append([]int{-1}, j.cells...))+1)
	var n, m float64
	for k, d := range j.dishes {
		cell := j.cells[k]
		switch {
		case d.Control || a[cell] != 0:
		case slices.Contains(to, j.settings[k][i]):
			a[cell] = 1
			n++
		case slices.Contains(from, j.settings[k][i]):
			a[cell] = -1
			m++
		}
	}
	if n == 0 || m == 0 {
		return nil
	}
	for cell := range a {
		if a[cell] > 0 {
			a[cell] /= n
		} else {
			a[cell] /= m
		}
	}
	return a
}

// effectColumns model the factors' own effects: in a part of the factorial, or
// where lots hold a part of the treatments, the effects of several factors overlap
// and are taken apart by least squares.
func (j *Judge) effectColumns() [][]float64 {
	var columns [][]float64
	for k, d := range j.dishes {
		row := append(trial.EffectRow(j.plan.Factors, j.settings[k], d.Control), boolFloat(d.Control))
		for len(columns) < len(row) {
			columns = append(columns, make([]float64, len(j.dishes)))
		}
		for x, v := range row {
			columns[x][k] = v
		}
	}
	return columns
}

// effectGroups weights the levels of each group of factor i alike.
func (j *Judge) effectGroups(i int, from, to []trial.Setting) []float64 {
	a := []float64{0}
	for k, f := range j.plan.Factors {
		for _, l := range f.Levels[1:] {
			v := 0.0
			if k == i {
				v = share(to, l) - share(from, l)
			}
			a = append(a, v)
		}
	}
	return append(a, 0) // the control
}

// share is the part that one level has in the mean of a group of levels.
func share(group []trial.Setting, l trial.Setting) float64 {
	if !slices.Contains(group, l) {
		return 0
	}
	return 1 / float64(len(group))
}

func boolFloat(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// contrastWeights are the least-squares weights on units of the combination a of
// the columns' coefficients, the effects of the blocks taken out. Nil: the units
// do not tell it.
func contrastWeights(columns [][]float64, a []float64, blocks [][]float64) []float64 {
	all := slices.Concat(columns, blocks)
	a = append(slices.Clone(a), make([]float64, len(blocks))...)
	space, err := linear.NewErrorSpace(all[:1])
	if err != nil {
		return nil
	}
	kept, b := all[:1:1], a[:1:1]
	for k := 1; k < len(all); k++ {
		if space.Add(all[k]) {
			kept, b = append(kept, all[k]), append(b, a[k])
		}
	}
	w, err := linear.ContrastWeights(kept, b)
	if err != nil {
		return nil
	}
	for k, c := range all { // what was left out must not show in the difference
		if math.Abs(linear.Dot(w, c)-a[k]) > 1e-8 {
			return nil
		}
	}
	return w
}

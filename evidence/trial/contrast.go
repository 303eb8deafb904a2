package trial

import (
	"fmt"
	"math"
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/stat/spread"
)

// Weights turn the outcomes of dishes or runs into the difference between two
// groups of levels.
type Weights []float64

// Of returns the difference in the outcomes y.
func (w Weights) Of(y []float64) float64 {
	var s float64
	for i := range w {
		s += w[i] * y[i]
	}
	return s
}

// Norm is the standard error of the difference where each outcome has one of 1.
func (w Weights) Norm() float64 { return math.Sqrt(w.Of(w)) }

// fewHatch is the fraction under which a level counts as not hatching: part of
// a clutch, or a slip of handling, may hatch anywhere (common practice, no source).
const fewHatch = 0.05

// DishInterval is the Wilson interval of as many independent eggs as dishes of
// the given size, with the given correlation, are worth.
func DishInterval(all stat.Count, each int, rho, level float64) stat.Interval {
	eggs := max(1, int(float64(all.Eggs)/spread.DesignEffect(each, rho)))
	hatched := min(eggs, int(math.Round(all.Fraction()*float64(eggs))))
	return stat.Wilson(stat.Count{Hatched: hatched, Eggs: eggs}, level)
}

// SomeHatch reports whether an interval of the hatched fraction says that the
// level hatches eggs.
func SomeHatch(i stat.Interval) bool { return i.Low > fewHatch }

// NoneHatch reports whether it says that the level hatches next to none.
func NoneHatch(i stat.Interval) bool { return i.High < 3*fewHatch }

// OwnSetting is a dish's setting where groups of levels are compared: the added
// control is in no group, whatever its setting.
func OwnSetting(s Setting, control bool) Setting {
	if control {
		return Cat("\x00control")
	}
	return s
}

// GroupWeights gives every treatment (cell) of a group the same say, however
// many of its dishes were counted. Nil cells: every row is one.
func GroupWeights(settings []Setting, cells []string, from, to []Setting) Weights {
	size := map[string]float64{}
	group := map[string]float64{} // cells of the group, by sign
	key := func(i int) string {
		if cells == nil {
			return fmt.Sprint(i)
		}
		return cells[i]
	}
	sign := func(s Setting) float64 {
		switch {
		case slices.Contains(to, s):
			return 1
		case slices.Contains(from, s):
			return -1
		}
		return 0
	}
	n := map[float64]float64{}
	for i, s := range settings {
		size[key(i)]++
		if g := sign(s); size[key(i)] == 1 && g != 0 {
			group[key(i)] = g
			n[g]++
		}
	}
	if n[1] == 0 || n[-1] == 0 {
		return nil
	}
	w := make(Weights, len(settings))
	for i := range settings {
		if g := group[key(i)]; g != 0 {
			w[i] = g / n[g] / size[key(i)]
		}
	}
	return w
}

// EffectRow codes one dish for a model of the factors' own effects: a constant,
// then a column for each level after the first. In the added control no factor
// that is set for dishes has an effect.
func EffectRow(factors []Factor, settings []Setting, control bool) []float64 {
	row := []float64{1}
	for i, f := range factors {
		for _, l := range f.Levels[1:] {
			v := 0.0
			if settings[i] == l && (!control || f.WholePlot) {
				v = 1
			}
			row = append(row, v)
		}
	}
	return row
}

// EffectWeights are the least-squares weights on dishes of the difference
// between two groups of levels of factor i, the other factors' effects taken
// out. Nil: the dishes do not tell it.
func EffectWeights(factors []Factor, settings [][]Setting, control []bool, i int, from, to []Setting) Weights {
	var columns [][]float64
	for k := range settings {
		for j, v := range append(EffectRow(factors, settings[k], control[k]), boolFloat(control[k])) {
			if len(columns) <= j {
				columns = append(columns, make([]float64, len(settings)))
			}
			columns[j][k] = v
		}
	}
	a := make([]float64, len(columns))
	at := 1
	for k, f := range factors {
		for _, l := range f.Levels[1:] {
			if k == i {
				a[at] = share(to, l) - share(from, l)
			}
			at++
		}
	}
	if !slices.Contains(control, true) {
		columns, a = columns[:len(columns)-1], a[:len(a)-1]
	}
	w, err := linear.ContrastWeights(columns, a)
	if err != nil {
		return nil
	}
	return w
}

// share is the part that one level has in the mean of a group of levels.
func share(group []Setting, l Setting) float64 {
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

package factorial

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// Treatment is one combination of settings, one setting per factor in the
// plan's order.
type Treatment struct {
	Settings []trial.Setting
	Control  bool // the untreated eggs added beside the factorial
	Plot     int  // which combination of the whole-plot factors it belongs to, see [Plots]
}

// Full returns every combination of the factors' levels and the untreated
// eggs beside them.
func Full(factors []trial.Factor) []Treatment {
	return withControl(factors, combinations(factors))
}

// combinations returns every combination of the factors' levels, the last
// factor changing fastest.
func combinations(factors []trial.Factor) []Treatment {
	out := []Treatment{{}}
	for _, f := range factors {
		var next []Treatment
		for _, t := range out {
			for _, l := range f.Levels {
				next = append(next, Treatment{Settings: append(slices.Clone(t.Settings), l)})
			}
		}
		out = next
	}
	return out
}

// mostTreatments bounds the count of a factorial that nobody could lay out.
const mostTreatments = 1 << 20

// Count returns how many treatments [Full] has, without making them.
func Count(factors []trial.Factor) int {
	n, plots, handled, control := 1, 1, false, true
	for _, f := range factors {
		n = min(n*len(f.Levels), mostTreatments)
		if f.WholePlot {
			plots = min(plots*len(f.Levels), mostTreatments)
		}
		if none, ok := trial.Untreated(f.ID); ok {
			handled = true
			control = control && slices.Contains(f.Levels, none)
		}
	}
	if handled && !control {
		n += plots
	}
	return n
}

// withControl adds untreated eggs to every combination of the whole-plot
// factors, unless the factorial has them already. What is no pre-treatment
// stands at its usual level in the control. Each treatment learns its plot.
func withControl(factors []trial.Factor, ts []Treatment) []Treatment {
	need := needsControl(factors, ts)
	var out []Treatment
	for p, plot := range Plots(factors, ts) {
		for _, t := range ts {
			if slices.Equal(wholeSettings(factors, t), plot) {
				t.Plot = p
				out = append(out, t)
			}
		}
		if need {
			out = append(out, controlOf(factors, plot, p))
		}
	}
	return out
}

func needsControl(factors []trial.Factor, ts []Treatment) bool {
	return handled(factors) && !slices.ContainsFunc(ts, func(t Treatment) bool { return t.untreated(factors) })
}

// handled reports whether any of the factors is something done to eggs.
func handled(factors []trial.Factor) bool {
	return slices.ContainsFunc(factors, func(f trial.Factor) bool { _, ok := trial.Untreated(f.ID); return ok })
}

// untreated reports whether nothing is done to the eggs of t.
func (t Treatment) untreated(factors []trial.Factor) bool {
	for i, f := range factors {
		if none, ok := trial.Untreated(f.ID); ok && t.Settings[i] != none {
			return false
		}
	}
	return true
}

func controlOf(factors []trial.Factor, plot []trial.Setting, p int) Treatment {
	c := Treatment{Control: true, Plot: p}
	whole := 0
	for _, f := range factors {
		none, ok := trial.Untreated(f.ID)
		switch {
		case f.WholePlot:
			c.Settings = append(c.Settings, plot[whole])
			whole++
		case ok:
			c.Settings = append(c.Settings, none)
		default:
			c.Settings = append(c.Settings, usual(f))
		}
	}
	return c
}

// usual returns the level at which untreated eggs stand when a factor is no
// treatment: the baseline, but the most oxygen.
func usual(f trial.Factor) trial.Setting {
	if f.ID == evidence.Oxygen {
		return f.Levels[len(f.Levels)-1]
	}
	return f.Levels[0]
}

func wholeSettings(factors []trial.Factor, t Treatment) []trial.Setting {
	out := []trial.Setting{}
	for i, f := range factors {
		if f.WholePlot {
			out = append(out, t.Settings[i])
		}
	}
	return out
}

// Plots returns the combinations of the settings of the whole-plot factors that
// the treatments have; one without settings where there are no such factors.
func Plots(factors []trial.Factor, ts []Treatment) [][]trial.Setting {
	var out [][]trial.Setting
	for _, t := range ts {
		w := wholeSettings(factors, t)
		if !slices.ContainsFunc(out, func(o []trial.Setting) bool { return slices.Equal(o, w) }) {
			out = append(out, w)
		}
	}
	return out
}

// Split reports whether one of the factors is set for chamber runs rather than
// dishes.
func Split(factors []trial.Factor) bool {
	return slices.ContainsFunc(factors, func(f trial.Factor) bool { return f.WholePlot })
}

package design

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// treatment is one combination of settings, one setting per factor in the
// plan's order.
type treatment struct {
	Settings []trial.Setting
	Control  bool // the untreated eggs added beside the factorial
	plot     int  // which combination of the whole-plot factors it belongs to
}

// fullFactorial returns every combination of the factors' levels, the last
// factor changing fastest.
func fullFactorial(factors []factor) []treatment {
	out := []treatment{{}}
	for _, f := range factors {
		var next []treatment
		for _, t := range out {
			for _, l := range f.Levels {
				next = append(next, treatment{Settings: append(slices.Clone(t.Settings), l)})
			}
		}
		out = next
	}
	return out
}

// mostTreatments bounds the count of a factorial that nobody could lay out.
const mostTreatments = 1 << 20

// countFull returns how many treatments the full factorial has, controls
// included, without making them.
func countFull(factors []factor) int {
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
func withControl(factors []factor, ts []treatment) []treatment {
	plots := plotsOf(factors, ts)
	need := needsControl(factors, ts)
	var out []treatment
	for p, plot := range plots {
		for _, t := range ts {
			if slices.Equal(wholeSettings(factors, t), plot) {
				t.plot = p
				out = append(out, t)
			}
		}
		if need {
			out = append(out, controlOf(factors, plot, p))
		}
	}
	return out
}

func needsControl(factors []factor, ts []treatment) bool {
	handled := false
	for _, f := range factors {
		_, ok := trial.Untreated(f.ID)
		handled = handled || ok
	}
	return handled && !slices.ContainsFunc(ts, func(t treatment) bool { return t.isUntreated(factors) })
}

func (t treatment) isUntreated(factors []factor) bool {
	for i, f := range factors {
		if none, ok := trial.Untreated(f.ID); ok && t.Settings[i] != none {
			return false
		}
	}
	return true
}

func controlOf(factors []factor, plot []trial.Setting, p int) treatment {
	c := treatment{Control: true, plot: p}
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
func usual(f factor) trial.Setting {
	if f.ID == evidence.Oxygen {
		return f.Levels[len(f.Levels)-1]
	}
	return f.Levels[0]
}

func wholeSettings(factors []factor, t treatment) []trial.Setting {
	out := []trial.Setting{}
	for i, f := range factors {
		if f.WholePlot {
			out = append(out, t.Settings[i])
		}
	}
	return out
}

func plotsOf(factors []factor, ts []treatment) [][]trial.Setting {
	var out [][]trial.Setting
	for _, t := range ts {
		w := wholeSettings(factors, t)
		if !slices.ContainsFunc(out, func(o []trial.Setting) bool { return slices.Equal(o, w) }) {
			out = append(out, w)
		}
	}
	return out
}

package design

import (
	"fmt"
	"slices"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/scheme"
)

// fractional lays out a fraction of the two-level dish factors, crossed with
// every combination of the other factors, in 2^free runs of the former.
func (s *settled) fractional(factors []factor, free int) (layout, bool) {
	var two []int
	var names []string
	for i, f := range factors {
		if !f.WholePlot && len(f.Levels) == 2 {
			two, names = append(two, i), append(names, f.ID.Label())
		}
	}
	fr, ok := scheme.FractionOf(len(two), free)
	if !ok {
		return layout{}, false
	}
	allowed := map[string]bool{}
	for _, signs := range fr.Runs(true) {
		allowed[fmt.Sprint(signs)] = true
	}
	var ts []treatment
	for _, t := range fullFactorial(factors) {
		signs := make([]int, len(two))
		for k, i := range two {
			signs[k] = 1
			if t.Settings[i] == factors[i].Levels[0] {
				signs[k] = -1
			}
		}
		if allowed[fmt.Sprint(signs)] {
			ts = append(ts, t)
		}
	}
	return layout{factors: factors, treatments: withControl(factors, ts), design: trial.Design{Kind: trial.Fraction, SplitPlot: hasWholePlot(factors),
		Resolution: scheme.Roman(fr.Resolution()), Aliases: fr.InWords(names)}}, true
}

func hasWholePlot(factors []factor) bool {
	return slices.ContainsFunc(factors, func(f factor) bool { return f.WholePlot })
}

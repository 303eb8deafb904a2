package factorial

import (
	"fmt"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/scheme"
)

// leastResolution of a fraction: below it a factor's own effect has the face of
// what two others do together, and conditions of hatching do work together.
const leastResolution = 4

// Fraction returns a fraction of the two-level dish factors in 2^free runs,
// crossed with every combination of the other factors, and what it confuses. ok
// is false where the catalogue has none that keeps single factors apart from pairs.
func Fraction(factors []trial.Factor, free int) (ts []Treatment, design trial.Design, ok bool) {
	two := twoLevels(factors)
	fr, ok := scheme.FractionOf(len(two), free)
	if !ok || fr.Resolution() < leastResolution {
		return nil, trial.Design{}, false
	}
	allowed := map[string]bool{}
	for _, signs := range fr.Runs(true) {
		allowed[fmt.Sprint(signs)] = true
	}
	for _, t := range combinations(factors) {
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
	var names []string
	for _, i := range two {
		names = append(names, factors[i].ID.Label())
	}
	return withControl(factors, ts), trial.Design{Kind: trial.Fraction, SplitPlot: Split(factors),
		Resolution: scheme.Roman(fr.Resolution()), Aliases: fr.InWords(names)}, true
}

// MostFree is the most runs, as a power of two, that a fraction of the factors
// can have: one less than those of the factors with two levels that are set for
// dishes.
func MostFree(factors []trial.Factor) int { return len(twoLevels(factors)) - 1 }

// twoLevels returns the indices of the factors that are set for dishes and have
// two levels.
func twoLevels(factors []trial.Factor) []int {
	var two []int
	for i, f := range factors {
		if !f.WholePlot && len(f.Levels) == 2 {
			two = append(two, i)
		}
	}
	return two
}

package factorial

import (
	"math/rand/v2"
	"slices"

	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/trial"
)

const optimalStarts = 6

// Optimal returns the subset of the factorial, at most so many treatments with
// the untreated eggs, that tells the factors' own effects apart best
// (D-optimal). ok is false where no such subset tells them apart.
func Optimal(factors []trial.Factor, most int, r *rand.Rand) (chosen []Treatment, ok bool) {
	ts := combinations(factors)
	slices.SortStableFunc(ts, func(a, b Treatment) int { // the untreated first: always kept
		return untreatedRank(a, factors) - untreatedRank(b, factors)
	})
	kept, controls := 0, 0
	if untreatedRank(ts[0], factors) == 0 {
		kept = 1
	} else if needsControl(factors, ts) {
		controls = len(Plots(factors, ts))
	}
	columns := 1
	for _, f := range factors {
		columns += len(f.Levels) - 1
	}
	size := min(most-controls, len(ts)-1)
	if size <= columns {
		return nil, false
	}
	in, err := linear.DOptimal(mainEffects(factors, ts), size, kept, optimalStarts, r)
	if err != nil {
		return nil, false
	}
	for _, i := range in {
		chosen = append(chosen, ts[i])
	}
	return withControl(factors, chosen), true
}

func untreatedRank(t Treatment, factors []trial.Factor) int {
	if handled(factors) && t.untreated(factors) {
		return 0
	}
	return 1
}

// mainEffects codes treatments for a model of the factors' own effects.
func mainEffects(factors []trial.Factor, ts []Treatment) [][]float64 {
	var rows [][]float64
	for _, t := range ts {
		rows = append(rows, trial.EffectRow(factors, t.Settings, t.Control))
	}
	return rows
}

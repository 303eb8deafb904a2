package design

import (
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
)

const (
	streamOptimal  = 0x6f7074696d616c
	mostCandidates = 600 // treatments among which a subset is sought
	optimalStarts  = 6
)

// optimal lays out the subset of the factorial that tells the factors' own
// effects apart best (D-optimal), as many treatments as can have two dishes.
func (s *settled) optimal(factors []factor) (layout, bool) {
	full := countFull(factors)
	if full > mostCandidates {
		return layout{}, false
	}
	ts := fullFactorial(factors)
	slices.SortStableFunc(ts, func(a, b treatment) int { // the untreated first: always kept
		return untreatedRank(a, factors) - untreatedRank(b, factors)
	})
	kept, controls := 0, 0
	if untreatedRank(ts[0], factors) == 0 {
		kept = 1
	} else if needsControl(factors, ts) {
		controls = len(plotsOf(factors, ts))
	}
	columns := 1
	for _, f := range factors {
		columns += len(f.Levels) - 1
	}
	size := min(s.mostTreatments()-controls, len(ts)-1)
	if size <= columns {
		return layout{}, false
	}
	in, err := stat.DOptimal(mainEffects(factors, ts), size, kept, optimalStarts, generator(s.Seed, streamOptimal))
	if err != nil {
		return layout{}, false
	}
	var chosen []treatment
	for _, i := range in {
		chosen = append(chosen, ts[i])
	}
	return layout{factors: factors, treatments: withControl(factors, chosen),
		design: trial.Design{Kind: trial.Optimal, SplitPlot: hasWholePlot(factors), Aliases: []string{}}}, true
}

func untreatedRank(t treatment, factors []factor) int {
	handled := slices.ContainsFunc(factors, func(f factor) bool { _, ok := trial.Untreated(f.ID); return ok })
	if handled && t.isUntreated(factors) {
		return 0
	}
	return 1
}

// mostTreatments is how many treatments can have the fewest dishes that a
// treatment needs.
func (s *settled) mostTreatments() int {
	n := s.Dishes / s.fewestSets()
	for n > 0 && s.setsAt(s.leastEggsADish(), n) < s.fewestSets() {
		n--
	}
	return n
}

// mainEffects codes treatments for a model of the factors' own effects.
func mainEffects(factors []factor, ts []treatment) [][]float64 {
	var rows [][]float64
	for _, t := range ts {
		rows = append(rows, trial.EffectRow(plain(factors), t.Settings, t.Control))
	}
	return rows
}

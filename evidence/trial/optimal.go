package trial

import (
	"slices"

	"hatchlore/evidence/stat"
)

const (
	streamOptimal  = 0x6f7074696d616c
	mostCandidates = 600 // treatments among which a subset is sought
	optimalStarts  = 6
)

// optimal lays out the subset of the factorial that tells the factors' own
// effects apart best (D-optimal), as many treatments as can have two dishes.
func (s *settled) optimal(factors []Factor) (layout, bool) {
	full := countFull(factors)
	if full > mostCandidates {
		return layout{}, false
	}
	ts := fullFactorial(factors)
	slices.SortStableFunc(ts, func(a, b Treatment) int { // the untreated first: always kept
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
	var chosen []Treatment
	for _, i := range in {
		chosen = append(chosen, ts[i])
	}
	return layout{factors: factors, treatments: withControl(factors, chosen),
		design: Design{Kind: optimalSubset, SplitPlot: hasWholePlot(factors), Aliases: []string{}}}, true
}

func untreatedRank(t Treatment, factors []Factor) int {
	handled := slices.ContainsFunc(factors, func(f Factor) bool { _, ok := untreated(f.ID); return ok })
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

// mainEffects codes treatments for a model of the factors' own effects: a
// constant, then one column for each level after the first.
func mainEffects(factors []Factor, ts []Treatment) [][]float64 {
	var rows [][]float64
	for _, t := range ts {
		rows = append(rows, effectRow(factors, t.Settings, t.Control))
	}
	return rows
}

// effectRow codes one dish; in the added control no factor has an effect of its
// own.
func effectRow(factors []Factor, settings []Setting, control bool) []float64 {
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

// effectWeights are the least-squares weights on dishes of the difference
// between two groups of levels of factor i, the other factors' effects taken
// out. Nil: the dishes do not tell it.
func effectWeights(factors []Factor, settings [][]Setting, control []bool, i int, from, to []Setting) []float64 {
	var columns [][]float64
	for k := range settings {
		for j, v := range append(effectRow(factors, settings[k], control[k]), boolFloat(control[k])) {
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
	w, err := stat.ContrastWeights(columns, a)
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

package outcome

import (
	"maps"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
)

// treatmentResults sums the dishes treated alike.
func treatmentResults(names []string, factors []trial.Factor, dishes []counts.Dish) []TreatmentResult {
	var out []TreatmentResult
	var series []hatchDays
	for _, d := range dishes {
		levels := map[string]trial.Setting{}
		for k, n := range names {
			levels[n] = d.Levels[k]
		}
		i := slices.IndexFunc(out, func(t TreatmentResult) bool { return t.Control == d.Control && maps.Equal(t.Levels, levels) })
		if i < 0 {
			i = len(out)
			out = append(out, TreatmentResult{Levels: levels, Control: d.Control})
			series = append(series, hatchDays{})
		}
		t := &out[i]
		t.Dishes++
		t.Eggs += d.Eggs
		t.Hatched += d.Hatched
		t.Emerged += d.Emerged
		t.Dead += d.Dead
		series[i].add(d)
	}
	for i := range out {
		t := &out[i]
		w := stat.Wilson(stat.Count{Hatched: t.Hatched, Eggs: t.Eggs}, 0.95)
		t.Fraction, t.Low, t.High = float64(t.Hatched)/float64(t.Eggs), w.Low, w.High
		t.HalfDays = series[i].half(t.Eggs)
	}
	sortTreatments(out, names, factors)
	return out
}

// sortTreatments puts the control last and the others in the order of their
// levels.
func sortTreatments(ts []TreatmentResult, names []string, factors []trial.Factor) {
	slices.SortStableFunc(ts, func(a, b TreatmentResult) int {
		if a.Control != b.Control {
			if a.Control {
				return 1
			}
			return -1
		}
		for _, n := range names {
			if c := trial.CompareSettings(evidence.Factor(n))(a.Levels[n], b.Levels[n]); c != 0 {
				return c
			}
			if a.Levels[n] != b.Levels[n] && a.Levels[n].Category != b.Levels[n].Category {
				if a.Levels[n].Category < b.Levels[n].Category {
					return -1
				}
				return 1
			}
		}
		return 0
	})
}

package outcome

import (
	"maps"
	"math"
	"slices"

	"hatchlore/evidence/stat/timecourse"
	"hatchlore/evidence/trial/counts"
)

// hatchDays gathers the newly hatched of a treatment by days since the trigger.
type hatchDays struct {
	at      map[int]int
	undated bool
}

func (h *hatchDays) add(d counts.Dish) {
	if h.at == nil {
		h.at = map[int]int{}
	}
	for _, l := range d.Looks {
		if l.Hatched > 0 && (l.Date.IsZero() || d.Trigger.IsZero()) {
			h.undated = true
			return
		}
		if l.Hatched >= 0 && !l.Date.IsZero() && !d.Trigger.IsZero() {
			h.at[l.Date.Since(d.Trigger)] += l.Hatched
		}
	}
}

// half returns the time to half, missing without dates, without a hatch, and where
// a single look saw all there was to see.
func (h *hatchDays) half(eggs int) Figure {
	if h.undated || len(h.at) < 2 {
		return Figure(math.NaN())
	}
	s := timecourse.Series{Days: []float64{0}, New: []int{h.at[0]}, Eggs: eggs}
	for _, d := range slices.Sorted(maps.Keys(h.at)) {
		switch {
		case d < 0 && h.at[d] > 0:
			return Figure(math.NaN())
		case d > 0: // at the trigger, day 0, none had hatched, whatever was looked for before
			s.Days, s.New = append(s.Days, float64(d)), append(s.New, h.at[d])
		}
	}
	return Figure(s.TimeToHalf())
}

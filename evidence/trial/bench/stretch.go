package bench

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence/trial"
)

// A treatment may last longer by a tenth, and by three days at most, where that
// keeps handling off a barred day (a judgement, no source: papers round more).
const (
	stretchShare = 10
	mostStretch  = 3
)

// stretched returns the recipe with phases that last longer where they would
// begin on a barred day, for a dish that meets its trigger on the day; ok is
// false where that does not help.
func (r recipe) stretched(trigger trial.Day, b Barred) (longer recipe, ok bool) {
	end := trigger.Add(-r.inChamber())
	if b.Bars(trigger) || b.Bars(end) {
		return r, false
	}
	r.extra = map[string]int{}
	for _, p := range slices.Backward(r.phases()) {
		start := end.Add(-p.days)
		for b.Bars(start) {
			start = start.Add(-1)
			r.extra[p.act]++
		}
		if r.extra[p.act] > min(mostStretch, p.days/stretchShare) {
			return r, false
		}
		end = start
	}
	return r, true
}

// stretchTo lets treatments last longer so that the first trigger can be on the
// day, without a dish that begins before the first day; false where it cannot.
func (s *scheduler) stretchTo(day trial.Day, offsets []int) bool {
	if s.Forward {
		return false
	}
	last := s.plan.Runs[len(s.plan.Runs)-1].Batch - 1
	longer := slices.Clone(s.recipes)
	for i, r := range s.recipes {
		trigger := day.Add(offsets[i])
		var ok bool
		if longer[i], ok = r.stretched(trigger, s.Barred); !ok {
			return false
		}
		if !s.Start.IsZero() && trigger.Add(-longer[i].length()).Before(s.Start) {
			return false
		}
		if s.batch(i) < last && s.Barred.Bars(trigger.Add(s.LookDays)) {
			return false
		}
	}
	s.sayStretch(longer)
	s.recipes = longer
	return true
}

// sayStretch tells which treatments last longer than they were asked to.
func (s *scheduler) sayStretch(longer []recipe) {
	var said []string
	for i, r := range s.recipes {
		for k, p := range r.phases() {
			if n := longer[i].extra[p.act]; n > 0 {
				words := fmt.Sprintf("%s, not %s", longer[i].phases()[k].do, trial.Plural(p.days, "day"))
				if !slices.Contains(said, words) {
					said = append(said, words)
				}
			}
		}
	}
	if len(said) > 0 {
		slices.Sort(said)
		s.assumed = append(s.assumed, "so that no handling falls on a barred day, some treatments last a little longer in some dishes: "+strings.Join(said, "; "))
	}
}

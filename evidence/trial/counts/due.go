package counts

import "hatchlore/evidence/trial"

// Due is a dish that is to be looked at, with what a form for it shows.
type Due struct {
	Dish    int       `json:"dish"`
	Label   string    `json:"label"`
	Chamber string    `json:"chamber"`
	Date    trial.Day `json:"date"` // for which the look was planned; earlier than asked for when it is overdue
	Last    bool      `json:"last"` // the last look: what is left is counted too
	So      SoFar     `json:"so_far"`
}

// SoFar is what the looks at a dish have found, those of one day left out.
type SoFar struct {
	Eggs    int   `json:"eggs"` // set in the dish
	Hatched int   `json:"hatched"`
	Dead    int   `json:"dead"`
	Emerged int   `json:"emerged"` // at the latest look; still in their membrane
	Left    int   `json:"left"`    // eggs neither hatched nor dead
	That    *Look `json:"that"`    // the look of that day, which another would correct; nil: none yet
}

// DueOn returns the dishes whose latest look planned for the day or before has
// not been recorded, in the order of dish numbers. A look missed altogether is
// not due once the next one is: hatched and dead are counted since the look
// before, whenever that was. c may be nil.
func DueOn(p *trial.Plan, c *Sheet, day trial.Day) []Due {
	due := []Due{}
	for _, d := range p.Dishes {
		planned, ok := lookBy(d, day)
		if !ok || c.lookedSince(d, planned) {
			continue
		}
		due = append(due, Due{Dish: d.Dish, Label: d.Label, Chamber: d.Chamber, Date: planned,
			Last: planned == d.LastLook(), So: SoFarOf(c, d, day)})
	}
	return due
}

// SoFarOf returns what the looks at dish d have found, that of the day apart.
func SoFarOf(c *Sheet, d trial.Dish, day trial.Day) SoFar {
	so := SoFar{Eggs: d.Eggs}
	var latest trial.Day
	for _, l := range c.of(d) {
		if l.Eggs > 0 {
			so.Eggs = l.Eggs
		}
		if l.Date == day {
			so.That = &l
			continue
		}
		so.Hatched += max(0, l.Hatched)
		so.Dead += max(0, l.Dead)
		if l.Emerged >= 0 && !l.Date.Before(latest) && l.Date.Before(day) {
			so.Emerged, latest = l.Emerged, l.Date
		}
	}
	so.Left = so.Eggs - so.Hatched - so.Dead
	return so
}

// lookBy returns the latest look planned for the day or before.
func lookBy(d trial.Dish, day trial.Day) (planned trial.Day, ok bool) {
	for _, s := range d.Steps {
		if s.Act == trial.ActLook && !day.Before(s.Date) && (!ok || planned.Before(s.Date)) {
			planned, ok = s.Date, true
		}
	}
	return planned, ok
}

// of returns the looks at a dish, which a sheet may name by label or number.
func (c *Sheet) of(d trial.Dish) []Look {
	if c == nil {
		return nil
	}
	var out []Look
	for _, l := range c.Looks {
		if d.Named(l.Dish) {
			out = append(out, l)
		}
	}
	return out
}

// lookedSince reports whether the dish was looked at on the day or later. A look
// without a date is the sum at the end.
func (c *Sheet) lookedSince(d trial.Dish, day trial.Day) bool {
	for _, l := range c.of(d) {
		if l.Date.IsZero() || !l.Date.Before(day) {
			return true
		}
	}
	return false
}

package trial

import (
	"slices"
	"strconv"
	"strings"
)

// SetOut returns the first day on which the dish is handled.
func (d Dish) SetOut() Day {
	if len(d.Steps) == 0 {
		return Day{}
	}
	return d.Steps[0].Date
}

// LastLook returns the last day on which the dish is to be looked at.
func (d Dish) LastLook() (last Day) {
	for _, s := range d.Steps {
		if s.Act == ActLook && last.Before(s.Date) {
			last = s.Date
		}
	}
	return last
}

// Trigger returns the day on which the dish meets its trigger, no day when its
// steps do not say.
func (d Dish) Trigger() Day {
	for _, s := range d.Steps {
		if s.Act == ActTrigger {
			return s.Date
		}
	}
	return Day{}
}

// Find returns the index of the dish with the label or number, or -1.
func (p *Plan) Find(name string) int {
	return slices.IndexFunc(p.Dishes, func(d Dish) bool { return d.Named(name) })
}

// Named reports whether a sheet that says name means this dish: its label, in
// whatever letters, or its number.
func (d Dish) Named(name string) bool {
	return strings.EqualFold(d.Label, name) || strconv.Itoa(d.Dish) == name
}

// Block names where the dish's eggs come from: the lot, and the clutch where
// clutches are told apart. Eggs of one block are more alike.
func (d Dish) Block() string {
	if d.Clutch == "" {
		return d.Lot
	}
	return strings.TrimPrefix(d.Lot+" / "+d.Clutch, " / ")
}

// Lots returns the names of the lots that the eggs come from, in the order of
// the dishes.
func (p *Plan) Lots() []string {
	out := []string{}
	for _, d := range p.Dishes {
		if d.Lot != "" && !slices.Contains(out, d.Lot) {
			out = append(out, d.Lot)
		}
	}
	return out
}

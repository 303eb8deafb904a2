// Package countform makes the form in which counts are entered at the bench,
// and takes what was typed into it: dish by dish under blind labels.
//
// It refuses what no dish of the plan can have, and holds that dish back with
// what was typed while every other dish is taken. It shows nothing that tells
// a dish's treatment.
package countform

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
)

// Names of a dish's fields: one of these with the dish's label behind it.
const (
	Hatched = "hatched:"
	Emerged = "emerged:"
	Dead    = "dead:"
	Note    = "note:"
)

// Dish is one dish of the form.
type Dish struct {
	Label   string
	So      counts.SoFar
	Due     bool
	Last    bool // its last look: what is left is counted too
	Hatched Entry
	Emerged Entry
	Dead    Entry
	Note    Entry
	Problem string // why what was typed cannot be
}

// Entry is one field of a dish.
type Entry struct{ Name, Value string }

// Recorded reports whether the dish has a look of the form's day already.
func (d Dish) Recorded() bool { return d.So.That != nil }

// Was are the looks that this day's look has taken the place of, oldest first.
func (d Dish) Was() []counts.Look {
	if d.So.That == nil {
		return nil
	}
	return d.So.That.Was
}

// Form is the counts form of a trial for one day.
type Form struct {
	Day   trial.Day
	Due   []Dish // to be looked at, in the order of the dishes
	Other []Dish // that may be looked at
}

// New makes the form: what is due on the day first, then every other dish whose
// eggs are set out by then. What was recorded for the day stands in it, to be
// corrected.
func New(p *trial.Plan, c *counts.Sheet, day trial.Day) Form {
	f := Form{Day: day}
	due := map[string]counts.Due{}
	for _, d := range counts.DueOn(p, c, day) {
		due[d.Label] = d
	}
	for _, d := range p.Dishes {
		if day.Before(d.SetOut()) {
			continue
		}
		is, isDue := due[d.Label]
		row := Dish{Label: d.Label, So: counts.SoFarOf(c, d, day), Due: isDue, Last: isDue && is.Last,
			Hatched: Entry{Name: Hatched + d.Label}, Emerged: Entry{Name: Emerged + d.Label}, Dead: Entry{Name: Dead + d.Label}, Note: Entry{Name: Note + d.Label}}
		if that := row.So.That; that != nil {
			row.Hatched.Value, row.Emerged.Value, row.Dead.Value, row.Note.Value = Written(that.Hatched), Written(that.Emerged), Written(that.Dead), that.Note
			row.Last = day == d.LastLook()
		}
		if isDue {
			f.Due = append(f.Due, row)
		} else {
			f.Other = append(f.Other, row)
		}
	}
	return f
}

// Written prints a count, nothing for one that was not written down.
func Written(n int) string {
	if n == counts.Unseen {
		return ""
	}
	return strconv.Itoa(n)
}

// Take reads what was typed. It returns the looks that the plan can have, and
// notes in the form what was typed and, beside each dish that was not taken,
// why. Dishes that were left empty or as they were give no look.
func (f *Form) Take(p *trial.Plan, c *counts.Sheet, values url.Values) *counts.Sheet {
	out := &counts.Sheet{}
	for _, dishes := range [][]Dish{f.Due, f.Other} {
		for i := range dishes {
			l, given, err := dishes[i].read(values, f.Day)
			if err == nil && given {
				_, err = counts.Take(p, c, &counts.Sheet{Looks: []counts.Look{l}, Factors: [][]string{nil}})
			}
			switch {
			case err != nil:
				dishes[i].Problem = err.Error()
			case given:
				out.Looks, out.Factors = append(out.Looks, l), append(out.Factors, nil)
			}
		}
	}
	return out
}

// Wrong returns the dishes that were held back.
func (f Form) Wrong() []Dish {
	var out []Dish
	for _, dishes := range [][]Dish{f.Due, f.Other} {
		for _, d := range dishes {
			if d.Problem != "" {
				out = append(out, d)
			}
		}
	}
	return out
}

// Hold puts dishes that were held back in their places, with what was typed.
func (f *Form) Hold(held []Dish) {
	for _, h := range held {
		for _, dishes := range [][]Dish{f.Due, f.Other} {
			for i := range dishes {
				if dishes[i].Label == h.Label {
					h.So, h.Due, h.Last = dishes[i].So, dishes[i].Due, dishes[i].Last
					dishes[i] = h
				}
			}
		}
	}
}

// read reads one dish's fields; given is false where they say nothing new.
func (d *Dish) read(values url.Values, day trial.Day) (l counts.Look, given bool, err error) {
	changed := false
	for _, e := range []*Entry{&d.Hatched, &d.Emerged, &d.Dead, &d.Note} {
		if typed, sent := values[e.Name]; sent {
			now := strings.TrimSpace(typed[0])
			changed = changed || now != e.Value
			e.Value = now
		}
	}
	if !changed {
		return l, false, nil
	}
	l, err = counts.Entry{Dish: d.Label, Date: day.String(), Hatched: d.Hatched.Value, Emerged: d.Emerged.Value, Dead: d.Dead.Value, Note: d.Note.Value}.Look()
	switch {
	case err != nil:
		return l, true, fmt.Errorf("dish %s, %w", d.Label, err)
	case l.Empty() && d.Recorded():
		return l, true, fmt.Errorf("dish %s: a look that was recorded is corrected, not emptied; enter 0 where there was nothing", d.Label)
	case l.Empty() && l.Note != "":
		return l, true, fmt.Errorf("dish %s: a note alone is no look; enter 0 hatched where there was nothing", d.Label)
	}
	return l, !l.Empty(), nil
}

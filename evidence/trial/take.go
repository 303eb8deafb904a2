package trial

import (
	"errors"
	"fmt"
	"slices"
)

// Take adds a sheet of counts to those taken before, which may be nil. Dishes
// are kept under their labels, whichever way the sheet names them. It refuses,
// each with its line, what no dish of the plan can have: an unknown dish, more
// eggs than were set, a look before the eggs were set out. A look at the same
// dish on the same day corrects the earlier one; see [Counts.Merge].
func (p *Plan) Take(before, sheet *Counts) (*Counts, error) {
	var wrong []error
	more := &Counts{}
	for _, l := range sheet.Looks {
		if i := p.find(l.Dish); i >= 0 {
			l.Dish = p.Dishes[i].Label
			if set := p.Dishes[i].setOut(); !l.Date.IsZero() && l.Date.Before(set) {
				wrong = append(wrong, fmt.Errorf("%sdish %s: a look on %s cannot be, its eggs are set out on %s", l.at(), l.Dish, l.Date, set))
			}
		}
		more.Looks = append(more.Looks, l)
	}
	if err := errors.Join(append(wrong, more.check())...); err != nil {
		return nil, err
	}
	if before == nil {
		before = &Counts{}
	}
	all, err := before.Merge(more)
	if err == nil {
		_, err = p.counted(all)
	}
	if err != nil {
		return nil, err
	}
	return all, nil
}

// at names the line of a look that came from a file, as the start of a
// sentence.
func (l Look) at() string {
	if l.Line == 0 {
		return ""
	}
	return fmt.Sprintf("line %d: ", l.Line)
}

// lineOf names the last line of the sheet that has looks at a dish; looks of
// earlier sheets have none.
func lineOf(looks []Look) string {
	last := Look{}
	for _, l := range looks {
		if l.Line > last.Line {
			last = l
		}
	}
	return last.at()
}

// setOut returns the first day on which the dish is handled.
func (d Dish) setOut() Day {
	if len(d.Steps) == 0 {
		return Day{}
	}
	return d.Steps[0].Date
}

// lastLook returns the last day on which the dish is to be looked at.
func (d Dish) lastLook() (last Day) {
	for _, s := range d.Steps {
		if s.Act == ActLook && last.Before(s.Date) {
			last = s.Date
		}
	}
	return last
}

// Progress says how far the counting of a trial has come.
type Progress struct {
	Dishes   int `json:"dishes"`
	Counted  int `json:"counted"`  // dishes with a look
	Finished int `json:"finished"` // dishes with their last look
	Eggs     int `json:"eggs"`     // set in the counted dishes
	Hatched  int `json:"hatched"`
}

// Whole reports whether every dish has had its last look.
func (p Progress) Whole() bool { return p.Dishes > 0 && p.Finished == p.Dishes }

// Progress returns how far the counts have come. A look without a date is
// taken for the sum at the end.
func (p *Plan) Progress(c *Counts) Progress {
	out := Progress{Dishes: len(p.Dishes)}
	for _, looks := range c.byDish() {
		i := p.find(looks[0].Dish)
		if i < 0 {
			continue
		}
		out.Counted++
		out.Eggs += p.eggsIn(i, looks)
		out.Hatched += sumLooks(looks).hatched
		last := looks[len(looks)-1].Date // undated looks sort first
		if looks[0].Date.IsZero() || !last.Before(p.Dishes[i].lastLook()) {
			out.Finished++
		}
	}
	return out
}

// eggsIn returns the eggs set in dish i: as counted, else as planned.
func (p *Plan) eggsIn(i int, looks []Look) int {
	if n := sumLooks(looks).eggs; n > 0 {
		return n
	}
	return p.Dishes[i].Eggs
}

// Spent returns how many eggs of each lot stand in the dishes that were
// counted. Dishes without a lot are left out.
func (p *Plan) Spent(c *Counts) map[string]int {
	out := map[string]int{}
	for _, looks := range c.byDish() {
		if i := p.find(looks[0].Dish); i >= 0 && p.Dishes[i].Lot != "" {
			out[p.Dishes[i].Lot] += p.eggsIn(i, looks)
		}
	}
	return out
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

// Untreated returns the outcome of the dishes that nothing was done to: the
// added control, else the treatment in which every factor that can be left out
// is; ok is false where the plan has no such dishes.
func (p *Plan) Untreated(r *Result) (t TreatmentResult, ok bool) {
	i := slices.IndexFunc(r.Treatments, func(t TreatmentResult) bool { return t.Control })
	if i < 0 {
		i = slices.IndexFunc(r.Treatments, func(t TreatmentResult) bool { return p.spared(t.Levels) })
	}
	if i < 0 {
		return TreatmentResult{}, false
	}
	return r.Treatments[i], true
}

func (p *Plan) spared(levels map[string]Setting) bool {
	handled := false
	for _, f := range p.Factors {
		none, can := untreated(f.ID)
		if can && levels[string(f.ID)] != none {
			return false
		}
		handled = handled || can
	}
	return handled
}

package counts

import "hatchlore/evidence/trial"

// Take adds a sheet of counts to those taken before, which may be nil. Dishes
// are kept under their labels, whichever way the sheet names them. It refuses,
// each with its line, what no dish of the plan can have: an unknown dish, more
// eggs than were set, a look before the eggs were set out. A look at the same
// dish on the same day corrects the earlier one; see [Sheet.Merge].
func Take(p *trial.Plan, before, sheet *Sheet) (*Sheet, error) {
	wrong := &faults{}
	planned := rosterOf(p)
	sheet.unplanned(planned, wrong)
	more := &Sheet{}
	for _, l := range sheet.Looks {
		if i := planned.find(l.Dish); i >= 0 {
			l.Dish = p.Dishes[i].Label
			if set := p.Dishes[i].SetOut(); !l.Date.IsZero() && l.Date.Before(set) {
				wrong.add(l.Line, "dish %s: a look on %s cannot be, its eggs are set out on %s", l.Dish, l.Date, set)
			}
		}
		more.Looks = append(more.Looks, l)
	}
	more.check(wrong)
	if err := wrong.err(); err != nil {
		return nil, err
	}
	if before == nil {
		before = &Sheet{}
	}
	all, err := before.Merge(more)
	if err == nil {
		_, err = Dishes(p, all)
	}
	if err != nil {
		return nil, err
	}
	return all, nil
}

// Unplanned refuses, each with its line, the dishes that a plan has not.
func (c *Sheet) Unplanned(p *trial.Plan) error {
	wrong := &faults{}
	c.unplanned(rosterOf(p), wrong)
	return wrong.err()
}

func (c *Sheet) unplanned(planned roster, wrong *faults) {
	for _, looks := range c.byDish() {
		if name := looks[0].Dish; planned.find(name) < 0 {
			wrong.add(lastLine(looks), "%w", noDish(name))
		}
	}
}

// lastLine is the last line of the sheet that has looks at a dish; looks of
// earlier sheets have none.
func lastLine(looks []Look) int {
	last := 0
	for _, l := range looks {
		last = max(last, l.Line)
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

// ProgressOf returns how far the counts have come. A look without a date is
// taken for the sum at the end.
func ProgressOf(p *trial.Plan, c *Sheet) Progress {
	out := Progress{Dishes: len(p.Dishes)}
	planned := rosterOf(p)
	for _, looks := range c.byDish() {
		i := planned.find(looks[0].Dish)
		if i < 0 {
			continue
		}
		out.Counted++
		out.Eggs += eggsIn(p, i, looks)
		out.Hatched += sumLooks(looks).Hatched
		last := looks[len(looks)-1].Date // undated looks sort first
		if looks[0].Date.IsZero() || !last.Before(p.Dishes[i].LastLook()) {
			out.Finished++
		}
	}
	return out
}

// eggsIn returns the eggs set in dish i: as counted, else as planned.
func eggsIn(p *trial.Plan, i int, looks []Look) int {
	if n := sumLooks(looks).Eggs; n > 0 {
		return n
	}
	return p.Dishes[i].Eggs
}

// Spent returns how many eggs of each lot stand in the dishes that were
// counted. Dishes without a lot are left out.
func Spent(p *trial.Plan, c *Sheet) map[string]int {
	out := map[string]int{}
	planned := rosterOf(p)
	for _, looks := range c.byDish() {
		if i := planned.find(looks[0].Dish); i >= 0 && p.Dishes[i].Lot != "" {
			out[p.Dishes[i].Lot] += eggsIn(p, i, looks)
		}
	}
	return out
}

package trial

import "hatchlore/evidence"

// bench is the layout on the bench: which treatment, run, set and lot each dish
// has, in the order of dish numbers.
type bench struct {
	layout
	runs     []Run
	fixed    []Fixed
	slots    []slot
	incubate int
}

type slot struct{ treatment, run, set int }

// bench places the runs and draws the dishes of each by lot.
func (s *settled) bench(l layout, fixed []Fixed) bench {
	r := generator(s.Seed, streamLayout)
	b := bench{layout: l, fixed: fixed, runs: s.place(l, fixed, r), incubate: s.Incubate}
	for i, run := range b.runs {
		var slots []slot
		for set := range l.sets {
			if set*s.runs()/l.sets != run.repeat {
				continue
			}
			for t := range l.treatments {
				if l.treatments[t].plot == run.plot {
					slots = append(slots, slot{t, i, set})
				}
			}
		}
		for _, k := range permutation(len(slots), r) {
			b.slots = append(b.slots, slots[k])
		}
	}
	return b
}

// dishes writes the dishes of the plan, still without steps.
func (s *settled) dishes(p *Plan, b bench) error {
	labels, err := blindLabels(len(b.slots), generator(s.Seed, streamLabel))
	if err != nil {
		return err
	}
	for i, at := range b.slots {
		t := b.treatments[at.treatment]
		d := Dish{Dish: i + 1, Label: labels[i], Chamber: b.runs[at.run].Chamber, Run: b.runs[at.run].Run,
			Levels: map[evidence.Factor]Setting{}, Control: t.Control, Eggs: b.eggsPerDish, Lot: s.Lots[b.lotOfSet[at.set]].Name}
		for k, f := range b.factors {
			d.Levels[f.ID] = t.Settings[k]
		}
		p.Dishes = append(p.Dishes, d)
		p.EggsUsed += d.Eggs
	}
	return nil
}

package design

import (
	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/placing"
)

// dealt is a layout brought to the bench: which treatment, run, set and lot each dish
// has, in the order of dish numbers.
type dealt struct {
	layout
	runs  []placing.Run
	fixed []trial.Fixed
	slots []slot
}

type slot struct{ treatment, run, set int }

// deal places the runs and draws the dishes of each by lot.
func (s *settled) deal(l layout, fixed []trial.Fixed) dealt {
	r := generator(s.Seed, streamLayout)
	var temperatures []float64
	for _, plot := range l.plots() {
		temperatures = append(temperatures, incubation(l.factors, plot, fixed))
	}
	b := dealt{layout: l, fixed: fixed}
	b.runs = placing.Runs(temperatures, s.runs(), s.Chambers, func(n int) []int { return permutation(n, r) })
	for i, run := range b.runs {
		var slots []slot
		for set := range l.sets {
			if set*s.runs()/l.sets != run.Repeat {
				continue
			}
			for t := range l.treatments {
				if l.treatments[t].Plot == run.Plot {
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

// writeDishes writes the dishes of the plan, still without steps.
func (s *settled) writeDishes(p *trial.Plan, b dealt) error {
	r := generator(s.Seed, streamLabel)
	labels, err := trial.BlindLabels(len(b.slots), func(n int) int { return below(n, r) })
	if err != nil {
		return err
	}
	for i, at := range b.slots {
		t, lot := b.treatments[at.treatment], s.Lots[b.lotOfSet[at.set]]
		d := trial.Dish{Dish: i + 1, Label: labels[i], Chamber: b.runs[at.run].Chamber, Run: b.runs[at.run].Run.Run,
			Levels: map[evidence.Factor]trial.Setting{}, Control: t.Control, Eggs: b.eggsPerDish, Lot: lot.Name, Clutch: lot.Clutch}
		for k, f := range b.factors {
			d.Levels[f.ID] = t.Settings[k]
		}
		p.Dishes = append(p.Dishes, d)
		p.EggsUsed += d.Eggs
	}
	return nil
}

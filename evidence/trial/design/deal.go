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

// sketch writes what is dealt as a plan, still without labels and dates.
func (s *settled) sketch(b dealt) *trial.Plan {
	p := &trial.Plan{Design: b.design, Factors: plain(b.factors), Fixed: b.fixed, Odds: s.odds()}
	for _, r := range b.runs {
		p.Runs = append(p.Runs, r.Run)
	}
	for _, q := range s.Questions {
		if p.FactorOf(q) >= 0 {
			p.Questions = append(p.Questions, q)
		}
	}
	for i, at := range b.slots {
		t, lot := b.treatments[at.treatment], s.Lots[b.lots[at.set][at.treatment]]
		d := trial.Dish{Dish: i + 1, Chamber: b.runs[at.run].Chamber, Run: b.runs[at.run].Run.Run,
			Levels: map[evidence.Factor]trial.Setting{}, Control: t.Control, Eggs: b.eggsPerDish, Lot: lot.Name, Clutch: lot.Clutch}
		for k, f := range b.factors {
			d.Levels[f.ID] = t.Settings[k]
		}
		p.Dishes = append(p.Dishes, d)
		p.EggsUsed += d.Eggs
	}
	return p
}

// label draws blind labels for the dishes.
func (s *settled) label(p *trial.Plan) error {
	r := generator(s.Seed, streamLabel)
	labels, err := trial.BlindLabels(len(p.Dishes), func(n int) int { return below(n, r) })
	if err != nil {
		return err
	}
	for i := range p.Dishes {
		p.Dishes[i].Label = labels[i]
	}
	return nil
}

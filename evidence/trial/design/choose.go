package design

import "hatchlore/evidence/trial"

// A fraction that confuses a factor's own effect with a product of two others,
// or a subset that is merely as good as can be, must promise more than a clean
// factorial to be chosen: its chances count four fifths (a judgement, no source).
const confusedWorth = 0.8

// choose returns the option under which the analysis would most often pick the
// right sides, summed over the questions; what an option leaves out counts 0.
// Without questions the power of the factors by hand decides. The first of
// equals is the richest. A single option is taken as it is.
func (s *settled) choose(options []option, fixed []trial.Fixed) (option, []trial.Fixed, error) {
	var best option
	var bestFixed []trial.Fixed
	highest := -1.0
	for _, o := range options {
		f, err := s.fixIncubation(o.factors, fixed)
		if err != nil {
			return option{}, nil, err
		}
		if len(options) == 1 {
			return o, f, nil
		}
		worth, err := s.worth(o.layout, f)
		if err != nil {
			return option{}, nil, err
		}
		if worth > highest+0.02 { // within the simulation's error the richer one stays
			best, bestFixed, highest = o, f, worth
		}
	}
	return best, bestFixed, nil
}

func (s *settled) worth(l layout, fixed []trial.Fixed) (float64, error) {
	a, err := s.arena(s.deal(l, fixed), trySimulation)
	if err != nil {
		return 0, err
	}
	var sum float64
	if len(s.Questions) > 0 {
		settles, err := a.settle(a.asked(s.Questions))
		if err != nil {
			return 0, err
		}
		for _, c := range settles {
			sum += c.Chance
		}
	}
	for i, f := range a.factors {
		if !f.byHand || len(f.Conflicts) > 0 {
			continue
		}
		c, err := a.finds(i, f.Levels[:1], f.Levels[len(f.Levels)-1:], 0.05)
		if err != nil {
			return 0, err
		}
		sum += c.right
	}
	if l.design.Kind == trial.Optimal || l.design.Resolution == "III" {
		sum *= confusedWorth
	}
	return sum, nil
}

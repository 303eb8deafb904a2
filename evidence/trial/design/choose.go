package design

import (
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/odds"
)

// A subset that is merely as good as can be must promise more than a clean
// factorial to be chosen: its chances count four fifths (a judgement, no source).
const subsetWorth = 0.8

// Simulated trials of the plan, and of each layout while choosing among them:
// they bound the standard error of a chance to 0.008 and 0.016.
const (
	simulations   = 4000
	trySimulation = 1000
)

// arena simulates what is dealt under the plan's suppositions. Where the eggs lie
// cold is not known yet: each run is taken to have a place of its own.
func (s *settled) arena(b dealt, trials int) (*odds.Arena, error) {
	return odds.New(s.sketch(b), s.Seed, trials)
}

func (s *settled) odds() trial.Odds {
	return trial.Odds{BaseFraction: s.BaseFraction, Rho: s.rho, Difference: s.Difference}
}

// weigh adds power and the chance of settling each question to the plan.
func (s *settled) weigh(p *trial.Plan) error {
	a, err := odds.New(p, s.Seed, simulations)
	if err != nil {
		return err
	}
	if p.Power, err = a.Powers(); err != nil {
		return err
	}
	p.Settles, err = a.Settle()
	return err
}

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
		settles, err := a.Settle()
		if err != nil {
			return 0, err
		}
		for _, c := range settles {
			sum += c.Chance
		}
	}
	for i, f := range l.factors {
		if !f.byHand || len(f.Conflicts) > 0 {
			continue
		}
		found, err := a.Ends(i)
		if err != nil {
			return 0, err
		}
		sum += found
	}
	if l.design.Kind == trial.Optimal {
		sum *= subsetWorth
	}
	return sum, nil
}

package design

import (
	"errors"
	"fmt"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// byHand returns what the keeper set: the factors, and the conditions that all
// dishes share. It refuses what is both, and what is one of them twice.
func (s *settled) byHand() (factors []factor, fixed []trial.Fixed, err error) {
	fixed = slices.Clone(s.Held)
	for _, f := range s.Factors {
		if len(f.Levels) == 1 {
			fixed = append(fixed, trial.Fixed{ID: f.ID, Unit: f.Unit, Setting: f.Levels[0], Why: trial.AsAsked})
			continue
		}
		if slices.ContainsFunc(factors, func(g factor) bool { return g.ID == f.ID }) {
			return nil, nil, fmt.Errorf("factor %s is given twice", f.ID)
		}
		f.WholePlot = trial.WholePlotFactor(f.ID)
		factors = append(factors, factor{Factor: f, byHand: true})
	}
	for i, x := range fixed {
		if slices.ContainsFunc(fixed[:i], func(y trial.Fixed) bool { return y.ID == x.ID }) {
			return nil, nil, fmt.Errorf("%s is held in all dishes twice: one setting of it is enough", x.ID)
		}
		if why := s.unfixable(x); why != "" {
			return nil, nil, errors.New(why)
		}
	}
	for _, f := range factors {
		if slices.Contains(s.Without, f.ID) {
			return nil, nil, fmt.Errorf("%s cannot be a factor and be left out as what cannot be set", f.ID)
		}
		if why := settledBy(fixed, f.ID); why != "" {
			return nil, nil, fmt.Errorf("%s cannot be a factor too: %s", f.ID, why)
		}
	}
	return factors, fixed, nil
}

// unfixable says why no chamber can hold a fixed temperature, "" where one can.
func (s *settled) unfixable(x trial.Fixed) string {
	return s.unholdable(factor{Factor: trial.Factor{ID: x.ID, Unit: x.Unit, WholePlot: trial.WholePlotFactor(x.ID), Levels: []trial.Setting{x.Setting}}})
}

// settledBy says which fixed condition leaves nothing of a factor to compare, ""
// where none does.
func settledBy(fixed []trial.Fixed, id evidence.Factor) string {
	for _, x := range fixed {
		switch {
		case x.ID == id:
			return fmt.Sprintf("it is fixed at %s in all dishes", x.Setting.In(x.Unit))
		case x.ID == evidence.ColdLength && !x.Treats() && id == evidence.ColdTemperature:
			return "without a cold-moist period in any dish its temperature means nothing"
		}
	}
	return ""
}

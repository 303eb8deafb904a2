package design

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// factor is a factor of the trial with what the choice of a layout needs.
type factor struct {
	trial.Factor
	byHand bool            // asked for by the keeper: never dropped
	spare  []trial.Setting // levels on which no side stands, the first to go
}

// plain returns the factors as a plan has them.
func plain(factors []factor) []trial.Factor {
	var out []trial.Factor
	for _, f := range factors {
		out = append(out, f.Factor)
	}
	return out
}

// gather turns the request into factors by priority, conditions fixed by hand,
// and what could not become either.
func (s *settled) gather() (factors []factor, fixed []trial.Fixed, out []trial.LeftOut, err error) {
	if factors, fixed, err = s.byHand(); err != nil {
		return nil, nil, nil, err
	}
	for _, q := range s.Questions {
		f, why := s.factorFor(q, fixed)
		if why != "" {
			out = append(out, trial.LeftOut{Factor: q.Factor, Conflict: q.ID, Why: why})
			continue
		}
		if i := slices.IndexFunc(factors, func(g factor) bool { return g.ID == f.ID }); i >= 0 {
			factors[i].join(f)
			continue
		}
		factors = append(factors, f)
	}
	return factors, fixed, out, nil
}

// factorFor makes a question's factor, or says why the trial does not take it up.
func (s *settled) factorFor(q trial.Question, fixed []trial.Fixed) (f factor, why string) {
	if slices.Contains(s.Without, q.Factor) {
		return f, "it cannot be set, as you said"
	}
	if why := settledBy(fixed, q.Factor); why != "" {
		return f, why
	}
	return s.factorOf(q)
}

// factorOf makes a question's factor, or says why it cannot be one.
func (s *settled) factorOf(q trial.Question) (f factor, why string) {
	m, known := evidence.MeasureOf(q.Factor)
	switch {
	case !known:
		return f, fmt.Sprintf("%q is no factor", q.Factor)
	case m.Outcome:
		return f, fmt.Sprintf("%s is counted in every dish, not set", m.Label)
	}
	f.Factor = trial.Factor{ID: q.Factor, Unit: q.Factor.Unit(), WholePlot: trial.WholePlotFactor(q.Factor), Conflicts: []string{q.ID}}
	for _, l := range q.Levels {
		f.Claims = append(f.Claims, l.Claims...)
		set, err := l.Setting(m)
		if err != nil {
			why = err.Error()
			continue
		}
		if !slices.Contains(f.Levels, set) {
			f.Levels = append(f.Levels, set)
		}
	}
	f.Claims = distinct(f.Claims)
	if len(f.Levels) == 1 {
		if other, ok := trial.Counterpart(f.ID, f.Levels[0]); ok {
			f.Levels = append(f.Levels, other)
		}
	}
	if len(f.Levels) < 2 {
		if why == "" {
			why = "its sides give no two levels to set apart"
		}
		return f, why
	}
	slices.SortStableFunc(f.Levels, trial.CompareSettings(f.ID))
	f.spare = spareLevels(q, f)
	for len(f.Levels) > trial.MostLevels { // every other one, the outermost kept
		f.Levels = slices.DeleteFunc(f.Levels, func(l trial.Setting) bool {
			i := slices.Index(f.Levels, l)
			return i%2 == 1 && i < len(f.Levels)-1
		})
	}
	return f, s.unholdable(f)
}

// spareLevels returns the levels of f on which no side of q stands, and that are not
// the bare one to which a treatment is compared.
func spareLevels(q trial.Question, f factor) []trial.Setting {
	taken := []trial.Setting{}
	if none, ok := trial.Bare(f.ID); ok && q.Kind == trial.KindNeed {
		taken = append(taken, none)
	}
	for _, s := range q.Sides(f.Factor) {
		taken = append(taken, s.Levels...)
	}
	return slices.DeleteFunc(slices.Clone(f.Levels), func(l trial.Setting) bool { return slices.Contains(taken, l) })
}

// join lets one factor stand for another question as well. Levels set by hand
// stay as they are.
func (f *factor) join(g factor) {
	f.Claims = distinct(append(slices.Clone(f.Claims), g.Claims...))
	f.Conflicts = distinct(append(slices.Clone(f.Conflicts), g.Conflicts...))
	if f.byHand {
		return
	}
	f.spare = slices.DeleteFunc(append(slices.Clone(f.spare), g.spare...), func(l trial.Setting) bool {
		return slices.Contains(f.Levels, l) && !slices.Contains(f.spare, l) || slices.Contains(g.Levels, l) && !slices.Contains(g.spare, l)
	})
	f.Levels = slices.Clone(f.Levels)
	for _, l := range g.Levels {
		if !slices.Contains(f.Levels, l) {
			f.Levels = append(f.Levels, l)
		}
	}
	slices.SortStableFunc(f.Levels, trial.CompareSettings(f.ID))
}

func distinct(words []string) []string {
	var out []string
	for _, w := range words {
		if w != "" && !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}

// unholdable says which temperature of f no chamber can hold, "" when all can
// be held. Without a list of chambers they are taken to exist.
func (s *settled) unholdable(f factor) string {
	if !f.WholePlot || len(s.Chambers) == 0 {
		return ""
	}
	places := slices.Clone(s.Chambers)
	if f.ID == evidence.ColdTemperature {
		places = append(places, trial.Refrigerator())
	}
	for _, l := range f.Levels {
		if l.Category == "" && !slices.ContainsFunc(places, func(c trial.Chamber) bool { return c.Holds(l.Number) }) {
			return fmt.Sprintf("no chamber holds %s (%s): leave that level out or add a chamber for it",
				l.In(f.Unit), describeChambers(places))
		}
	}
	return ""
}

func describeChambers(cs []trial.Chamber) string {
	var out []string
	for _, c := range cs {
		if c.Low == c.High {
			out = append(out, trial.Num(c.Low).In("degC"))
		} else {
			out = append(out, fmt.Sprintf("%v to %v °C", c.Low, c.High))
		}
	}
	return "they hold " + strings.Join(out, ", ")
}

package trial

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
)

// LeftOut is a question or factor that the trial does not take up.
type LeftOut struct {
	Factor   evidence.Factor `json:"factor"`
	Conflict string          `json:"conflict"`
	Why      string          `json:"why"`
}

// gather turns the request into factors by priority, conditions fixed by hand,
// and what could not become either.
func (s *settled) gather() (factors []Factor, fixed []Fixed, out []LeftOut, err error) {
	for _, f := range s.Factors {
		if slices.ContainsFunc(factors, func(g Factor) bool { return g.ID == f.ID }) {
			return nil, nil, nil, fmt.Errorf("factor %s is given twice", f.ID)
		}
		if len(f.Levels) == 1 {
			fixed = append(fixed, Fixed{f.ID, f.Unit, f.Levels[0], "as asked"})
			continue
		}
		f.byHand, f.WholePlot = true, wholePlot(f.ID)
		factors = append(factors, f)
	}
	for _, q := range s.Questions {
		if i := slices.IndexFunc(fixed, func(x Fixed) bool { return x.ID == q.Factor }); i >= 0 {
			out = append(out, LeftOut{q.Factor, q.ID, fmt.Sprintf("%s is fixed at %s", q.Factor, fixed[i].Setting.In(fixed[i].Unit))})
			continue
		}
		f, why := s.factorOf(q)
		if why != "" {
			out = append(out, LeftOut{q.Factor, q.ID, why})
			continue
		}
		if i := slices.IndexFunc(factors, func(g Factor) bool { return g.ID == f.ID }); i >= 0 {
			factors[i].join(f)
			continue
		}
		factors = append(factors, f)
	}
	return factors, fixed, out, nil
}

// factorOf makes a question's factor, or says why it cannot be one.
func (s *settled) factorOf(q Question) (f Factor, why string) {
	m, known := evidence.MeasureOf(q.Factor)
	switch {
	case !known:
		return f, fmt.Sprintf("%q is no factor", q.Factor)
	case m.Outcome:
		return f, fmt.Sprintf("%s is counted in every dish, not set", m.Label)
	}
	f = Factor{ID: q.Factor, Unit: q.Factor.Unit(), WholePlot: wholePlot(q.Factor), Conflicts: []string{q.ID}}
	for _, l := range q.Levels {
		f.Claims = append(f.Claims, l.Claims...)
		set, err := l.setting(m)
		if err != nil {
			why = err.Error()
			continue
		}
		if !slices.Contains(f.Levels, set) {
			f.Levels = append(f.Levels, set)
		}
	}
	f.Claims = distinct(f.Claims)
	f.complete()
	if len(f.Levels) < 2 {
		if why == "" {
			why = "its sides give no two levels to set apart"
		}
		return f, why
	}
	slices.SortStableFunc(f.Levels, compareSettings(f.ID))
	f.spare = q.spareLevels(f)
	for len(f.Levels) > mostLevels { // every other one, the outermost kept
		f.Levels = slices.DeleteFunc(f.Levels, func(l Setting) bool {
			i := slices.Index(f.Levels, l)
			return i%2 == 1 && i < len(f.Levels)-1
		})
	}
	return f, s.unholdable(f)
}

// spareLevels returns the levels of f on which no side of q stands.
func (q Question) spareLevels(f Factor) []Setting {
	taken := []Setting{}
	for _, s := range q.sides(f) {
		taken = append(taken, s.levels...)
	}
	return slices.DeleteFunc(slices.Clone(f.Levels), func(l Setting) bool { return slices.Contains(taken, l) })
}

func (l Level) setting(m evidence.Measure) (Setting, error) {
	if l.Value != nil {
		return numberSetting(m, *l.Value)
	}
	return categorySetting(m, l.Category)
}

// complete gives a factor with a single level the one to compare it with: the
// untreated egg, or darkness against light.
func (f *Factor) complete() {
	if len(f.Levels) != 1 {
		return
	}
	if none, ok := untreated(f.ID); ok {
		if f.Levels[0] != none {
			f.Levels = append(f.Levels, none)
		} else if f.ID == evidence.Drying {
			f.Levels = append(f.Levels, Num(defaultDryDays))
		} else if f.ID == evidence.Freezing {
			f.Levels = append(f.Levels, Num(defaultFreezeTemp))
		}
	}
	if f.ID == evidence.Light {
		other := Cat("dark")
		if f.Levels[0] == other {
			other = Cat(defaultLitDay)
		}
		f.Levels = append(f.Levels, other)
	}
}

// join lets one factor stand for another question as well. Levels set by hand
// stay as they are.
func (f *Factor) join(g Factor) {
	f.Claims = distinct(append(slices.Clone(f.Claims), g.Claims...))
	f.Conflicts = distinct(append(slices.Clone(f.Conflicts), g.Conflicts...))
	if f.byHand {
		return
	}
	f.spare = slices.DeleteFunc(append(slices.Clone(f.spare), g.spare...), func(l Setting) bool {
		return slices.Contains(f.Levels, l) && !slices.Contains(f.spare, l) || slices.Contains(g.Levels, l) && !slices.Contains(g.spare, l)
	})
	f.Levels = slices.Clone(f.Levels)
	for _, l := range g.Levels {
		if !slices.Contains(f.Levels, l) {
			f.Levels = append(f.Levels, l)
		}
	}
	slices.SortStableFunc(f.Levels, compareSettings(f.ID))
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

// refrigerator is what every keeper has for the cold-moist period; its range
// is common practice, no source.
var refrigerator = Chamber{Name: "refrigerator", Low: 2, High: 8}

// unholdable says which temperature of f no chamber can hold, "" when all can
// be held. Without a list of chambers they are taken to exist.
func (s *settled) unholdable(f Factor) string {
	if !f.WholePlot || len(s.Chambers) == 0 {
		return ""
	}
	places := slices.Clone(s.Chambers)
	if f.ID == evidence.ColdTemperature {
		places = append(places, refrigerator)
	}
	for _, l := range f.Levels {
		if l.Category == "" && !slices.ContainsFunc(places, func(c Chamber) bool { return c.Holds(l.Number) }) {
			return fmt.Sprintf("no chamber holds %s (%s): leave that level out or add a chamber for it",
				l.In(f.Unit), describeChambers(places))
		}
	}
	return ""
}

func describeChambers(cs []Chamber) string {
	var out []string
	for _, c := range cs {
		if c.Low == c.High {
			out = append(out, Num(c.Low).In("degC"))
		} else {
			out = append(out, fmt.Sprintf("%v to %v °C", c.Low, c.High))
		}
	}
	return "they hold " + strings.Join(out, ", ")
}

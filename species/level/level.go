// Package level says which settings a trial needs to settle a conflict: where each
// side stands, what to compare a disputed value with, the untreated control.
//
// It refuses to set what came of the eggs, and a value that stands on hearsay
// alone and would be another side's in the right unit.
package level

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
)

// Of returns one level a side, then what to compare with, in the order of
// their values. An outcome cannot be set: it has none. Nor is a value tried that
// stands on hearsay alone and would be another side's in the right unit: 50 °C
// would kill the eggs that 50 °F hatched.
func Of(c conflict.Conflict) []conflict.Level {
	out := []conflict.Level{}
	m, ok := evidence.MeasureOf(c.Factor)
	if !ok || m.Outcome || c.Kind == conflict.Silent {
		return out
	}
	for i, s := range c.Sides {
		if mistaken(c, s) {
			continue
		}
		l := settingOf(s, i+1, c)
		l.Label = words(l, c)
		out = append(out, l)
	}
	if len(out) < 2 && len(c.Sides) > 1 {
		return []conflict.Level{}
	}
	if c.At != nil {
		out = append(out, elsewhere(c, out)...)
	}
	out = append(out, control(c.Factor, out)...)
	slices.SortStableFunc(out, func(a, b conflict.Level) int { return cmp.Compare(number(a), number(b)) })
	return out
}

// mistaken reports whether a side is a slip of unit: it has no finding of its own,
// and a reason says so of one of its papers.
func mistaken(c conflict.Conflict, s conflict.Side) bool {
	return s.Firsthand == 0 && len(s.Torn) == 0 && slices.ContainsFunc(c.Reasons, func(r conflict.Reason) bool {
		return r.Kind == conflict.UnitSlip && slices.Contains(s.Papers, r.Paper)
	})
}

// settingOf is where side number i stands.
func settingOf(s conflict.Side, i int, c conflict.Conflict) conflict.Level {
	l := conflict.Level{Side: i, Bearing: s.Bearing, Category: s.Category, Claims: slices.Clone(s.Claims)}
	switch {
	case c.At != nil:
		l.Value, l.Category = disputed(c), ""
	case c.Kind == conflict.Need && c.Factor != evidence.Trigger:
		if s.Bearing != evidence.Indifferent {
			l.Value = treatment(s, c)
			break
		}
		l.Category = cmp.Or(l.Category, string(conflict.NotNeeded))
		if u := controls[c.Factor].Unit; u != "" {
			l.Value, l.Unit = new(float64), u
			return l
		}
	default:
		if l.Value = stand(s, s.Span().Middle()); l.Value != nil {
			l.Category = ""
		}
	}
	if l.Value != nil {
		l.Unit = c.Unit()
	}
	return l
}

// words is the label of a side's level.
func words(l conflict.Level, c conflict.Conflict) string {
	if c.Kind == conflict.Need && c.Factor != evidence.Trigger && l.Bearing == evidence.Indifferent {
		return controls[c.Factor].Label // not needed: the untreated egg will do
	}
	if l.Value != nil {
		return value.Print(l.Value, l.Value, l.Unit, "")
	}
	return l.Category
}

// disputed is the value at which some saw eggs hatch and others none: of the
// values in that range the one that the hatching side printed.
func disputed(c conflict.Conflict) *float64 {
	last := stand(c.Sides[len(c.Sides)-1], c.At.Middle())
	for _, s := range c.Sides[:len(c.Sides)-1] {
		if v := stand(s, c.At.Middle()); v != nil && *v >= c.At.Low && *v <= c.At.High && c.At.Low != c.At.High {
			return v
		}
	}
	return last
}

// treatment is how long or how cold a side treated the eggs; a side that only
// says that it is needed, or harms, borrows the value of the first that told
// one.
func treatment(s conflict.Side, c conflict.Conflict) *float64 {
	for _, t := range append([]conflict.Side{s}, c.Sides...) {
		if v := stand(t, t.Span().Middle()); v != nil && t.Bearing != evidence.Indifferent {
			return v
		}
	}
	return nil
}

func sameSetting(l, m conflict.Level) bool {
	if l.Unit != m.Unit || (l.Value == nil) != (m.Value == nil) {
		return false
	}
	if l.Value == nil {
		return l.Category == m.Category
	}
	return *l.Value == *m.Value
}

// elsewhere is a level to compare a disputed one with: the middle one of the
// other values at which those who saw no hatch there saw eggs hatch, or anybody
// where they saw none at all.
func elsewhere(c conflict.Conflict, disputed []conflict.Level) []conflict.Level {
	for _, sides := range [][]conflict.Side{c.Sides[len(c.Sides)-1:], c.Sides} {
		var others []conflict.Level
		for v, cl := range favoured(sides, c.Sides[0].Unit) {
			if !slices.ContainsFunc(disputed, func(l conflict.Level) bool {
				return l.Value != nil && math.Abs(v-*l.Value) <= 2*value.Slack(c.Factor, v)
			}) {
				others = append(others, conflict.Level{Value: &v, Unit: cl.Unit, Label: value.Print(&v, &v, cl.Unit, "") + ", for comparison", Claims: []string{cl.ID}})
			}
		}
		if len(others) > 0 {
			slices.SortStableFunc(others, func(a, b conflict.Level) int { return cmp.Compare(*a.Value, *b.Value) })
			return others[len(others)/2 : len(others)/2+1]
		}
	}
	return nil
}

// favoured yields the printed ends of what the sources on the sides saw favour.
func favoured(sides []conflict.Side, unit string) iter.Seq2[float64, evidence.Claim] {
	return func(yield func(float64, evidence.Claim) bool) {
		for _, s := range sides {
			for _, v := range s.Voices {
				for _, c := range v.Claims {
					if c.Bearing != evidence.Favours || c.Unit != unit {
						continue
					}
					if c.Low != nil && !yield(*c.Low, c) || c.High != nil && !yield(*c.High, c) {
						return
					}
				}
			}
		}
	}
}

func number(l conflict.Level) float64 {
	if l.Value == nil {
		return math.Inf(1)
	}
	return *l.Value
}

// stand is the value that stands for a side: of those it printed the one
// nearest to middle, so that a source of the side would own the level.
func stand(s conflict.Side, middle float64) *float64 {
	best, far := math.NaN(), math.Inf(1)
	for _, cl := range s.Told {
		for _, v := range []*float64{cl.Low, cl.High} {
			if v != nil && cl.Unit == s.Unit && math.Abs(*v-middle) < far {
				best, far = *v, math.Abs(*v-middle)
			}
		}
	}
	if math.IsNaN(best) {
		return nil
	}
	return &best
}

// controls are the eggs without the treatment, for factors that have such a
// thing: water has always some temperature, salt and oxygen.
var controls = map[evidence.Factor]conflict.Level{
	evidence.Drying:        {Unit: "d", Label: "control, 0 d"},
	evidence.ColdLength:    {Unit: "d", Label: "control, 0 d"},
	evidence.StorageLength: {Unit: "d", Label: "control, 0 d"},
	evidence.Freezing:      {Category: "none", Label: "control, not frozen"},
	evidence.Trigger:       {Category: "none", Label: "control, no trigger"},
	evidence.Light:         {Category: "dark", Label: "control, dark"},
}

// control is the untreated level, unless a side stands there already.
func control(f evidence.Factor, sides []conflict.Level) []conflict.Level {
	l, ok := controls[f]
	if !ok || slices.ContainsFunc(sides, func(s conflict.Level) bool { return s.Label == l.Label }) {
		return nil
	}
	l.Claims = []string{}
	if l.Unit != "" {
		zero := 0.0
		l.Value = &zero
	}
	if slices.ContainsFunc(sides, func(s conflict.Level) bool { return sameSetting(l, s) }) {
		return nil
	}
	return []conflict.Level{l}
}

package marked

import (
	"slices"

	"hatchlore/evidence/quantity"
)

// dissolved reports whether q, so many milligrams in a litre of something
// unnamed, is of oxygen: the sentence or one right before speaks of it, and
// water can hold that much.
func (r *Text) dissolved(s *Sentence, q *quantity.Quantity) bool {
	const (
		most = 20 // mg/L, above saturation of fresh water at 0 °C (14.6 mg/L)
		back = 2
	)
	if q.Unit != quantity.MgL || q.Kind != quantity.Other && q.Kind != quantity.Salinity ||
		slices.ContainsFunc(q.Items, func(it quantity.Item) bool { return it.High == nil || *it.High > most }) {
		return false
	}
	if q.Kind == quantity.Other && s.Has.Meets(r.Roles.OxygenTold) {
		return true
	}
	for d := 1; d <= back; d++ {
		o := r.Beside(s, -d)
		if o == nil {
			return false
		}
		if q.Kind == quantity.Other && o.Has.Meets(r.Roles.OxygenTold) || len(o.valuesIn(quantity.MgL)) > 0 {
			return true
		}
	}
	return false
}

// valuesIn returns the oxygen that s gives in the unit.
func (s *Sentence) valuesIn(unit quantity.Unit) (out []*Target) {
	for _, t := range s.Targets {
		if t.Q != nil && t.Q.Kind == quantity.Oxygen && t.Q.Unit == unit {
			out = append(out, t)
		}
	}
	return out
}

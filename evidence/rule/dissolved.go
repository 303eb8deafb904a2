package rule

import (
	"slices"

	"hatchlore/evidence/quantity"
)

// dissolved reports whether q, so many milligrams in a litre of something
// unnamed, is of oxygen: the sentence or one right before speaks of it, and
// water can hold that much.
func (r *reading) dissolved(s *sentence, q *quantity.Quantity) bool {
	const (
		most = 20 // mg/L, above saturation of fresh water at 0 °C (14.6 mg/L)
		back = 2
	)
	if q.Unit != quantity.MgL || q.Kind != quantity.Other && q.Kind != quantity.Salinity ||
		slices.ContainsFunc(q.Items, func(it quantity.Item) bool { return it.High == nil || *it.High > most }) {
		return false
	}
	if q.Kind == quantity.Other && s.has.meets(r.roles.OxygenTold) {
		return true
	}
	for d := 1; d <= back && d <= len(r.sentences); d++ {
		o := r.sentences[len(r.sentences)-d]
		if o.region != s.region {
			return false
		}
		if q.Kind == quantity.Other && o.has.meets(r.roles.OxygenTold) || len(o.valuesIn(quantity.MgL)) > 0 {
			return true
		}
	}
	return false
}

// valuesIn returns the oxygen that s gives in the unit.
func (s *sentence) valuesIn(unit quantity.Unit) (out []*target) {
	for _, t := range s.targets {
		if t.q != nil && t.q.Kind == quantity.Oxygen && t.q.Unit == unit {
			out = append(out, t)
		}
	}
	return out
}

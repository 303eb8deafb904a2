package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// carriedOver adds what a sentence says of a second animal about the condition
// that it names once: "drying for 15 days favoured hatching in A. una, harmed it
// in B. altera and had no effect in C. tertia".
func (r *reading) carriedOver(found []*finding) (out []*finding) {
	for i, f := range found {
		out = append(out, f)
		if i+1 < len(found) && found[i+1].s == f.s || len(f.s.Names) < 2 {
			continue
		}
		first := sole(found[:i+1])
		if first == nil || len(first.names) != 1 || first.context || first.t.Clause != f.s.ClauseAt(f.s.Names[0].From) {
			continue
		}
		for k := first.t.Clause + 1; k < len(f.s.Clauses); k++ {
			c := f.s.Clauses[k]
			if told := c.Basis >= 0 || c.Bears == evidence.Prevents; told && c.Bears != marked.Unsaid && !r.Conditioned(f.s, k) {
				out = append(out, r.carry(first, k, c.Bears)...)
			}
		}
	}
	return out
}

// sole returns the one condition that the last sentence of found claims; nil
// where it claims none or several.
func sole(found []*finding) (f *finding) {
	last := found[len(found)-1].s
	for i := len(found) - 1; i >= 0 && found[i].s == last; i-- {
		switch g := found[i]; {
		case g.factor == evidence.HatchingFraction || g.factor == evidence.TimeToHatch:
		case f != nil || g.t.Siblings > 1:
			return nil
		default:
			f = g
		}
	}
	return f
}

// carry makes a finding like f of the animal that clause k names, if any.
func (r *reading) carry(f *finding, k int, b evidence.Bearing) []*finding {
	c := f.s.Clauses[k]
	g := firstGroup(f.s, c.From)
	if g == nil || g.From >= c.To {
		return nil
	}
	again := *f
	again.bearing, again.borrowed, again.subject = b, true, subject{g.Names, 0.93}
	again.names = r.namesOf(f.s, again.subject)
	if slices.Equal(again.names, f.names) {
		return nil
	}
	if again.category = ""; b == f.bearing {
		again.category = f.category
	} else if b == evidence.Prevents && (f.factor == evidence.Drying || f.factor == evidence.Freezing) {
		again.category = "harmful"
	}
	if again.low == nil && again.high == nil && again.category == "" {
		return nil
	}
	return []*finding{&again}
}

package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// ordinalLevels gives levels of a list their outcome when a sentence shortly
// after speaks of them by their order only ("at the first three levels 41 %
// hatched", "the warmest yielded none").
func (r *reading) ordinalLevels(found []*finding) {
	ro := r.Roles
	any := ro.Lowest
	for _, b := range []marked.Bits{ro.LastTwo, ro.LastThree, ro.FirstOne, ro.SecondOne, ro.ThirdOne, ro.Highest, ro.Middlemost, ro.Others, ro.FinalOne, ro.FirstTwo, ro.FirstThree, ro.FirstFour} {
		any.Join(b)
	}
	for _, s := range r.Sentences {
		if !s.Has.Meets(any) {
			continue
		}
		for _, g := range s.Tags {
			if !any.Has(g.Class) {
				continue
			}
			if c := s.Clauses[s.ClauseAt(g.From)]; c.Bears != marked.Unsaid && !r.valueIn(s, c) {
				lists := listsBefore(found, s, ro.Others.Has(g.Class))
				if own := listWithin(found, s, g); len(own) > 0 {
					lists = [][]*finding{own}
				}
				for _, list := range lists {
					for _, f := range r.picked(s, list, g) {
						f.bearing = c.Bears
					}
				}
			}
		}
	}
}

// valueIn reports whether the clause has a condition of its own in figures.
func (r *reading) valueIn(s *marked.Sentence, c marked.Clause) bool {
	return slices.ContainsFunc(s.Targets, func(t *marked.Target) bool {
		return t.Q != nil && t.At >= c.From && t.At < c.To && t.Kind != "fraction" && t.Kind != "duration"
	})
}

// picked returns those of the levels that the ordinal g of s means.
func (r *reading) picked(s *marked.Sentence, levels []*finding, g marked.Tag) (out []*finding) {
	var values []float64
	for _, f := range levels {
		if !slices.Contains(values, *f.low) {
			values = append(values, *f.low)
		}
	}
	n := len(values)
	if n < 2 {
		return nil
	}
	listed := slices.Clone(values)
	slices.Sort(values)
	ro := r.Roles
	var chosen []float64
	switch {
	case ro.Lowest.Has(g.Class):
		chosen = values[:1]
	case ro.Highest.Has(g.Class):
		chosen = values[n-1:]
	case ro.Middlemost.Has(g.Class):
		chosen = values[1 : n-1]
	case ro.Others.Has(g.Class):
		chosen = values
	case ro.FinalOne.Has(g.Class):
		chosen = listed[n-1:]
	default:
		for k, b := range []marked.Bits{ro.FirstOne, ro.SecondOne, ro.ThirdOne} {
			if b.Has(g.Class) && k < n {
				chosen = listed[k : k+1]
			}
		}
		for k, b := range []marked.Bits{2: ro.FirstTwo, 3: ro.FirstThree, 4: ro.FirstFour} {
			if b.Has(g.Class) && k < n {
				chosen = listed[:k]
			}
		}
		for k, b := range []marked.Bits{2: ro.LastTwo, 3: ro.LastThree} {
			if b.Has(g.Class) && k < n {
				chosen = values[n-k:]
			}
		}
	}
	several := false // "the two strongest" takes its levels out of what the sentence says of the whole list
	for _, b := range []marked.Bits{ro.FirstTwo, ro.FirstThree, ro.FirstFour, ro.LastTwo, ro.LastThree} {
		several = several || b.Has(g.Class)
	}
	for _, f := range levels {
		if (f.bearing == evidence.Reported || f.borrowed || several && f.s == s) && slices.Contains(chosen, *f.low) {
			out = append(out, f)
		}
	}
	return out
}

// levelsBefore returns the last list of levels that stands shortly before s
// and of which some level has no outcome.
func levelsBefore(found []*finding, s *marked.Sentence) (out []*finding) {
	const back = 2
	for i := len(found) - 1; i >= 0; i-- {
		f := found[i]
		if f.index >= s.Index || f.s.Region != s.Region {
			continue
		}
		if s.Index-f.index > back {
			return out
		}
		if len(out) == 0 && f.bearing != evidence.Reported || f.low == nil {
			continue
		}
		if len(out) == 0 || f.factor == out[0].factor && f.s == out[0].s {
			out = append(out, f)
		}
	}
	slices.Reverse(out)
	return out
}

// listWithin returns the list of levels that s itself gives before g: "salt was
// added to 1, 2 and 4 g/L; eggs hatched at the two weaker doses".
func listWithin(found []*finding, s *marked.Sentence, g marked.Tag) (out []*finding) {
	for i := len(found) - 1; i >= 0 && found[i].index >= s.Index; i-- {
		f := found[i]
		if f.s != s || f.t.Siblings < 3 || f.t.To > g.From || f.low == nil || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch {
			continue
		}
		if len(out) == 0 || f.factor == out[0].factor && f.t.Series == out[0].t.Series {
			out = append(out, f)
		}
	}
	slices.Reverse(out)
	return out
}

// listsBefore returns the list that [levelsBefore] finds, and with all set
// every other list of the same sentence.
func listsBefore(found []*finding, s *marked.Sentence, all bool) [][]*finding {
	last := levelsBefore(found, s)
	if !all || len(last) == 0 {
		return [][]*finding{last}
	}
	var out [][]*finding
	for _, f := range found {
		if f.s != last[0].s || f.low == nil || f.t.Siblings < 2 && f.factor != last[0].factor {
			continue
		}
		if n := len(out); n > 0 && out[n-1][0].factor == f.factor {
			out[n-1] = append(out[n-1], f)
		} else {
			out = append(out, []*finding{f})
		}
	}
	return out
}

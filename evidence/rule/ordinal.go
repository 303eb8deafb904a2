package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// ordinal is a way to name levels of a list by their order: "the warmest", "the
// first three".
type ordinal struct {
	cue   marked.Bits
	over  int  // levels that the list must have more than
	some  bool // several levels, which it takes out of what its sentence says of the whole list
	means func(ranked, listed []float64) []float64
}

// ordinals are the ways to name levels by their order, as printed or by their size.
func (r *reading) ordinals() []ordinal {
	ro := r.Roles
	nth := func(cue marked.Bits, k int) ordinal {
		return ordinal{cue, k, false, func(_, listed []float64) []float64 { return listed[k : k+1] }}
	}
	first := func(cue marked.Bits, k int) ordinal {
		return ordinal{cue, k, true, func(_, listed []float64) []float64 { return listed[:k] }}
	}
	last := func(cue marked.Bits, k int) ordinal {
		return ordinal{cue, k, true, func(ranked, _ []float64) []float64 { return ranked[len(ranked)-k:] }}
	}
	return []ordinal{
		{ro.Lowest, 1, false, func(ranked, _ []float64) []float64 { return ranked[:1] }},
		{ro.Highest, 1, false, func(ranked, _ []float64) []float64 { return ranked[len(ranked)-1:] }},
		{ro.Middlemost, 1, false, func(ranked, _ []float64) []float64 { return ranked[1 : len(ranked)-1] }},
		{ro.Others, 1, false, func(ranked, _ []float64) []float64 { return ranked }},
		{ro.FinalOne, 1, false, func(_, listed []float64) []float64 { return listed[len(listed)-1:] }},
		nth(ro.FirstOne, 0), nth(ro.SecondOne, 1), nth(ro.ThirdOne, 2),
		first(ro.FirstTwo, 2), first(ro.FirstThree, 3), first(ro.FirstFour, 4),
		last(ro.LastTwo, 2), last(ro.LastThree, 3),
	}
}

// ordinalLevels gives levels of a list their outcome when a sentence shortly
// after speaks of them by their order only ("at the first three levels 41 %
// hatched", "the warmest yielded none").
func (r *reading) ordinalLevels(found []*finding) {
	for _, o := range r.ordinals() {
		for _, s := range r.Sentences {
			if s.Has.Meets(o.cue) {
				r.tellOrdinal(found, s, o)
			}
		}
	}
}

// tellOrdinal gives the levels that s names by an ordinal what the clause of the
// ordinal says.
func (r *reading) tellOrdinal(found []*finding, s *marked.Sentence, o ordinal) {
	for _, g := range s.Tags {
		if !o.cue.Has(g.Class) {
			continue
		}
		c := s.Clauses[s.ClauseAt(g.From)]
		if c.Bears == marked.Unsaid || r.valueIn(s, c) {
			continue
		}
		lists := listsBefore(found, s, o.cue == r.Roles.Others)
		if own := listWithin(found, s, g); len(own) > 0 {
			lists = [][]*finding{own}
		}
		for _, list := range lists {
			for _, f := range o.picked(s, list) {
				f.bearing = c.Bears
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

// picked returns those of the levels that the ordinal means in s.
func (o ordinal) picked(s *marked.Sentence, levels []*finding) (out []*finding) {
	var listed []float64
	for _, f := range levels {
		if !slices.Contains(listed, *f.low) {
			listed = append(listed, *f.low)
		}
	}
	if len(listed) < 2 || len(listed) <= o.over {
		return nil
	}
	ranked := slices.Sorted(slices.Values(listed))
	meant := o.means(ranked, listed)
	for _, f := range levels {
		if (f.bearing == evidence.Reported || f.borrowed || o.some && f.s == s) && slices.Contains(meant, *f.low) {
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
		if f.s.Index >= s.Index || f.s.Region != s.Region {
			continue
		}
		if s.Index-f.s.Index > back {
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
	for i := len(found) - 1; i >= 0 && found[i].s.Index >= s.Index; i-- {
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

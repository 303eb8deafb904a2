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

// shareOut gives each level of a list the outcome of the share that has the
// same place in a list of shares as long: "stored for 2, 6 and 14 months;
// hatch 0, 33 and 41 %".
func (r *reading) shareOut(found []*finding) {
	for _, s := range r.Sentences {
		for _, shares := range shareLists(s) {
			if !r.SpeaksOfHatching(s) {
				continue
			}
			for _, f := range r.levelsFor(found, s, len(shares)) {
				if f.bearing = evidence.Favours; *shares[f.t.Item].High == 0 {
					f.bearing = evidence.Prevents
				}
			}
		}
	}
}

// timesOut does so with a list of times: "at 5, 10 and 15 °C. Hatching took
// 21, 9 and 5 days, respectively".
func (r *reading) timesOut(found []*finding) {
	for _, f := range found {
		if f.factor != evidence.TimeToHatch || f.bearing != evidence.Favours {
			continue
		}
		if f.t.Siblings < 2 {
			timedAlone(found, f)
			continue
		}
		if f.t.Item != 0 {
			continue
		}
		for _, level := range r.levelsFor(found, f.s, f.t.Siblings) {
			if level.bearing == evidence.Reported {
				level.bearing = evidence.Favours
			}
		}
	}
}

// timedAlone gives the one level that a label names the outcome of the time behind
// it: "20 °C: 38 h".
func timedAlone(found []*finding, timed *finding) {
	for _, f := range found {
		if f.s == timed.s && f.context && f.bearing == evidence.Reported && f.t.Siblings < 2 && f.t.Clause == timed.t.Clause-1 && f.s.Clauses[timed.t.Clause].Colon {
			f.bearing = evidence.Favours
		}
	}
}

// onlyThere gives the other levels of a list the failure that "only" implies where a
// sentence says of one of them that eggs hatched there alone: "they were kept at 5,
// 10 and 15 °C. They hatched only at 10 °C".
func (r *reading) onlyThere(found []*finding) {
	for _, f := range found {
		if f.bearing != evidence.Favours || f.low == nil || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch || !r.saysOnly(f) {
			continue
		}
		for _, g := range found {
			if g.factor == f.factor && g.bearing == evidence.Reported && g.index < f.index && f.index-g.index <= marked.Reach && g.s.Region == f.s.Region && g.t.Siblings > 1 && !sameValue(f, g) && slices.Equal(f.names, g.names) {
				g.bearing = evidence.Prevents
			}
		}
	}
}

// saysOnly reports whether "only" stands before the finding's value and its
// preposition, or closes its clause.
func (r *reading) saysOnly(f *finding) bool {
	s, t := f.s, f.t
	at := s.StepBack(t.From, r.Roles.Prep)
	end := s.Clauses[t.Clause].To
	return s.StepBack(t.From, r.Roles.Only) != t.From || at != t.From && s.StepBack(at, r.Roles.Only) != at || s.StepBack(end, r.Roles.Only) >= t.To && s.StepBack(end, r.Roles.Only) < end
}

// trends makes one range of the levels of a list of which the next sentence tells a
// trend alone: "... at 1, 2 and 4 g/L. Hatching declined steadily along the series".
func (r *reading) trends(found []*finding) {
	for i, f := range found {
		if f.t.Item != 0 || f.t.Siblings < 3 || f.dropped {
			continue
		}
		next := r.At(f.index+1, f.s.Region)
		if next == nil || !next.Has.Meets(r.Roles.Trend) || !next.Has.Meets(r.Roles.Hatch) || slices.ContainsFunc(next.Targets, func(t *marked.Target) bool { return t.Q != nil }) {
			continue
		}
		list := slices.DeleteFunc(slices.Clone(found[i:]), func(g *finding) bool {
			return g.s != f.s || g.factor != f.factor || g.t.Series != f.t.Series || g.bearing != evidence.Reported || g.low == nil || g.high == nil
		})
		if len(list) != f.t.Siblings {
			continue
		}
		whole := *f
		for _, g := range list {
			whole.low, whole.high = least(whole.low, g.low), most(whole.high, g.high)
			g.dropped = true
		}
		*f = whole
	}
}

func least(a, b *float64) *float64 {
	if *b < *a {
		return b
	}
	return a
}

func most(a, b *float64) *float64 {
	if *b > *a {
		return b
	}
	return a
}

// shareLists returns the lists of shares in s.
func shareLists(s *marked.Sentence) (out [][]*marked.Target) {
	for _, t := range s.Targets {
		switch {
		case t.Kind != "fraction" || t.Siblings < 2 || t.High == nil:
		case t.Item == 0:
			out = append(out, []*marked.Target{t})
		case len(out) > 0 && out[len(out)-1][0].Series == t.Series:
			out[len(out)-1] = append(out[len(out)-1], t)
		}
	}
	return slices.DeleteFunc(out, func(l []*marked.Target) bool { return len(l) != l[0].Siblings })
}

// levelsFor returns the levels of the list of n that stands nearest before the
// end of s, all of one factor.
func (r *reading) levelsFor(found []*finding, s *marked.Sentence, n int) (out []*finding) {
	const back = 2
	for i := len(found) - 1; i >= 0; i-- {
		f := found[i]
		if f.index > s.Index || f.s.Region != s.Region || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch {
			continue
		}
		if s.Index-f.index > back {
			break
		}
		if f.t.Siblings != n || f.s != s && f.bearing != evidence.Reported {
			continue
		}
		if len(out) == 0 || f.s == out[0].s && f.t.Series == out[0].t.Series && f.factor == out[0].factor {
			out = append(out, f)
		}
	}
	return out
}

// around returns the findings within about the same passage as found[i].
func around(found []*finding, i int) []*finding {
	from, to := i, i
	for from > 0 && found[i].index-found[from-1].index <= 2*marked.Reach {
		from--
	}
	for to < len(found) && found[to].index-found[i].index <= 2*marked.Reach {
		to++
	}
	return found[from:to]
}

// before returns those of around that stand before found[i].
func before(found []*finding, i int) []*finding {
	from := i
	for from > 0 && found[i].index-found[from-1].index <= 2*marked.Reach {
		from--
	}
	return found[from:i]
}

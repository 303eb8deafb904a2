package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

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
		if f.s.Index > s.Index || f.s.Region != s.Region || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch {
			continue
		}
		if s.Index-f.s.Index > back {
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

// onlyThere gives the other levels of a list the failure that "only" implies where a
// sentence says of one of them that eggs hatched there alone: "they were kept at 5,
// 10 and 15 °C. They hatched only at 10 °C".
func (r *reading) onlyThere(found []*finding) {
	for i, f := range found {
		if f.bearing != evidence.Favours || f.low == nil || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch || !r.saysOnly(f) {
			continue
		}
		for _, g := range before(found, i) {
			listed := g.factor == f.factor && g.bearing == evidence.Reported && g.t.Siblings > 1 && !sameValue(f, g)
			if listed && g.s.Index < f.s.Index && f.s.Index-g.s.Index <= marked.Reach && g.s.Region == f.s.Region && slices.Equal(f.names, g.names) {
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
		next := r.Beside(f.s, 1)
		if next == nil || !next.Has.Meets(r.Roles.Trend) || !next.Has.Meets(r.Roles.Hatch) || slices.ContainsFunc(next.Targets, func(t *marked.Target) bool { return t.Q != nil }) {
			continue
		}
		list := slices.DeleteFunc(slices.Clone(around(found, i)), func(g *finding) bool {
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

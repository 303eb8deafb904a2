package rule

import (
	"slices"

	"hatchlore/evidence"
)

// ordinalLevels gives levels of a list their outcome when a sentence shortly
// after speaks of them by their order only ("at the first three levels 41 %
// hatched", "the warmest yielded none").
func (r *reading) ordinalLevels(found []*finding) {
	ro := r.roles
	any := ro.Lowest
	for _, b := range []bits{ro.LastTwo, ro.LastThree, ro.FirstOne, ro.SecondOne, ro.ThirdOne, ro.Highest, ro.Middlemost, ro.Others, ro.FirstTwo, ro.FirstThree, ro.FirstFour} {
		any.join(b)
	}
	for _, s := range r.sentences {
		if !s.has.meets(any) {
			continue
		}
		for _, g := range s.tags {
			if !any.has(g.class) {
				continue
			}
			if c := s.clauses[s.clauseAt(g.from)]; c.bears != unsaid && !r.valueIn(s, c) {
				lists := listsBefore(found, s, ro.Others.has(g.class))
				if own := listWithin(found, s, g); len(own) > 0 {
					lists = [][]*finding{own}
				}
				for _, list := range lists {
					for _, f := range r.picked(s, list, g) {
						f.bearing = c.bears
					}
				}
			}
		}
	}
}

// valueIn reports whether the clause has a condition of its own in figures.
func (r *reading) valueIn(s *sentence, c clause) bool {
	return slices.ContainsFunc(s.targets, func(t *target) bool {
		return t.q != nil && t.at >= c.from && t.at < c.to && t.kind != "fraction" && t.kind != "duration"
	})
}

// picked returns those of the levels that the ordinal g of s means.
func (r *reading) picked(s *sentence, levels []*finding, g tag) (out []*finding) {
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
	ro := r.roles
	var chosen []float64
	switch {
	case ro.Lowest.has(g.class):
		chosen = values[:1]
	case ro.Highest.has(g.class):
		chosen = values[n-1:]
	case ro.Middlemost.has(g.class):
		chosen = values[1 : n-1]
	case ro.Others.has(g.class):
		chosen = values
	default:
		for k, b := range []bits{ro.FirstOne, ro.SecondOne, ro.ThirdOne} {
			if b.has(g.class) && k < n {
				chosen = listed[k : k+1]
			}
		}
		for k, b := range []bits{2: ro.FirstTwo, 3: ro.FirstThree, 4: ro.FirstFour} {
			if b.has(g.class) && k < n {
				chosen = listed[:k]
			}
		}
		for k, b := range []bits{2: ro.LastTwo, 3: ro.LastThree} {
			if b.has(g.class) && k < n {
				chosen = values[n-k:]
			}
		}
	}
	several := false // "the two strongest" takes its levels out of what the sentence says of the whole list
	for _, b := range []bits{ro.FirstTwo, ro.FirstThree, ro.FirstFour, ro.LastTwo, ro.LastThree} {
		several = several || b.has(g.class)
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
func levelsBefore(found []*finding, s *sentence) (out []*finding) {
	const back = 2
	for i := len(found) - 1; i >= 0; i-- {
		f := found[i]
		if f.index >= s.index || f.s.region != s.region {
			continue
		}
		if s.index-f.index > back {
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
func listWithin(found []*finding, s *sentence, g tag) (out []*finding) {
	for i := len(found) - 1; i >= 0 && found[i].index >= s.index; i-- {
		f := found[i]
		if f.s != s || f.t.siblings < 3 || f.t.to > g.from || f.low == nil || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch {
			continue
		}
		if len(out) == 0 || f.factor == out[0].factor && f.t.q == out[0].t.q {
			out = append(out, f)
		}
	}
	slices.Reverse(out)
	return out
}

// listsBefore returns the list that [levelsBefore] finds, and with all set
// every other list of the same sentence.
func listsBefore(found []*finding, s *sentence, all bool) [][]*finding {
	last := levelsBefore(found, s)
	if !all || len(last) == 0 {
		return [][]*finding{last}
	}
	var out [][]*finding
	for _, f := range found {
		if f.s != last[0].s || f.low == nil || f.t.siblings < 2 && f.factor != last[0].factor {
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
	for _, s := range r.sentences {
		for _, shares := range shareLists(s) {
			if !r.speaksOfHatching(s) {
				continue
			}
			for _, f := range r.levelsFor(found, s, len(shares)) {
				if f.bearing = evidence.Favours; *shares[f.t.item].high == 0 {
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
		if f.factor != evidence.TimeToHatch || f.bearing != evidence.Favours || f.t.siblings < 2 || f.t.item != 0 {
			continue
		}
		for _, level := range r.levelsFor(found, f.s, f.t.siblings) {
			if level.bearing == evidence.Reported {
				level.bearing = evidence.Favours
			}
		}
	}
}

// shareLists returns the lists of shares in s.
func shareLists(s *sentence) (out [][]*target) {
	for _, t := range s.targets {
		switch {
		case t.kind != "fraction" || t.siblings < 2 || t.high == nil:
		case t.item == 0:
			out = append(out, []*target{t})
		case len(out) > 0 && out[len(out)-1][0].q == t.q:
			out[len(out)-1] = append(out[len(out)-1], t)
		}
	}
	return slices.DeleteFunc(out, func(l []*target) bool { return len(l) != l[0].siblings })
}

// levelsFor returns the levels of the list of n that stands nearest before the
// end of s, all of one factor.
func (r *reading) levelsFor(found []*finding, s *sentence, n int) (out []*finding) {
	const back = 2
	for i := len(found) - 1; i >= 0; i-- {
		f := found[i]
		if f.index > s.index || f.s.region != s.region || f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch {
			continue
		}
		if s.index-f.index > back {
			break
		}
		if f.t.siblings != n || f.s != s && f.bearing != evidence.Reported {
			continue
		}
		if len(out) == 0 || f.t.q == out[0].t.q && f.factor == out[0].factor {
			out = append(out, f)
		}
	}
	return out
}

// around returns the findings within about the same passage as found[i].
func around(found []*finding, i int) []*finding {
	from, to := i, i
	for from > 0 && found[i].index-found[from-1].index <= 2*reach {
		from--
	}
	for to < len(found) && found[to].index-found[i].index <= 2*reach {
		to++
	}
	return found[from:to]
}

// before returns those of around that stand before found[i].
func before(found []*finding, i int) []*finding {
	from := i
	for from > 0 && found[i].index-found[from-1].index <= 2*reach {
		from--
	}
	return found[from:i]
}

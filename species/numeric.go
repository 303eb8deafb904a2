package species

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hatchlore/evidence"
)

// hatched are the bearings under which eggs hatched.
var hatched = []evidence.Bearing{evidence.Favours, evidence.Indifferent}

// numbers finds conflicts between values, unit by unit.
func numbers(lib *shelf, g group, vs []voice) []Conflict {
	var out []Conflict
	for _, unit := range unitsOf(g.claims) {
		if m, _ := evidence.MeasureOf(g.factor); m.Outcome {
			out = append(out, outcomes(lib, g, vs, unit)...)
			continue
		}
		out = append(out, opposed(lib, g, vs, unit)...)
		out = append(out, apart(lib, g, vs, unit)...)
	}
	return out
}

func unitsOf(claims []evidence.Claim) []string {
	var out []string
	for _, c := range claims {
		if hasNumber(c) && !slices.Contains(out, c.Unit) {
			out = append(out, c.Unit)
		}
	}
	slices.Sort(out)
	return out
}

// cluster is voices whose spans meet one another in a chain.
type cluster struct {
	whole  span
	voices []voice
}

// clusters joins voices by the spans that reach gives. A voice without a span
// is in none.
func clusters(f evidence.Factor, vs []voice, reach func(voice) (span, bool)) []cluster {
	type placed struct {
		span
		voice
	}
	var ps []placed
	for _, v := range vs {
		if s, ok := reach(v); ok {
			ps = append(ps, placed{s, v})
		}
	}
	slices.SortStableFunc(ps, func(a, b placed) int { return compareSpans(a.span, b.span) })
	var out []cluster
	for _, p := range ps {
		if n := len(out); n > 0 && meet(f, out[n-1].whole, p.span) {
			out[n-1].whole = out[n-1].whole.join(p.span)
			out[n-1].voices = append(out[n-1].voices, p.voice)
			continue
		}
		out = append(out, cluster{p.span, []voice{p.voice}})
	}
	return out
}

// apart finds ranges that favour and do not meet. All levels at which one
// source saw eggs hatch are one range: a paper that tested several levels is
// not in conflict with itself.
func apart(lib *shelf, g group, vs []voice, unit string) []Conflict {
	cs := clusters(g.factor, vs, func(v voice) (span, bool) { return v.reach(unit, evidence.Favours) })
	if len(cs) < 2 {
		return nil
	}
	return []Conflict{{Taxon: g.taxon, Factor: g.factor, Kind: Apart, Sides: sidesOf(lib, cs, unit)}}
}

func sidesOf(lib *shelf, cs []cluster, unit string) []Side {
	var out []Side
	for _, c := range cs {
		s := side(lib, c.voices, nil, func(c evidence.Claim) bool {
			return hasNumber(c) && c.Unit == unit && c.Bearing == evidence.Favours
		})
		s.Value = cmp.Or(valueOf(s.Low, s.High, s.Unit, ""), s.extent())
		out = append(out, s)
	}
	return out
}

// opposed finds values at which one source saw eggs hatch and another saw
// none: at most one where that was too little and one where it was too much, at
// the value that most sources dispute. A source with both
// outcomes at that value is torn, and opposes nobody.
func opposed(lib *shelf, g group, vs []voice, unit string) []Conflict {
	middle := favourite(vs, unit)
	var low, high []contest
	for _, bar := range bars(vs, unit) {
		c := contestAt(g, vs, unit, bar)
		if !disagree(c.open, c.against, c.torn) {
			continue
		}
		if c.tooLittle(unit, middle) {
			low = append(low, c)
		} else {
			high = append(high, c)
		}
	}
	var out []Conflict
	for i, cs := range [][]contest{low, high} {
		if len(cs) > 0 {
			out = append(out, weightiest(cs).with(cs).conflict(lib, g, unit, []string{"low", "high"}[i]))
		}
	}
	return out
}

func weightiest(cs []contest) contest {
	best := cs[0]
	for _, c := range cs[1:] {
		if c.outweighs(best) {
			best = c
		}
	}
	return best
}

// with adds to those who saw no hatch at c's value those who saw none at
// another where somebody who stands on the open side of c alone did: 1200 µS/cm
// stopped the hatch is a witness against "hatches from 600 to 1500" as well as
// 640 µS/cm is.
func (c contest) with(others []contest) contest {
	first := c.prevents
	for _, o := range others {
		if o.bar == c.bar || !slices.ContainsFunc(o.open, func(v voice) bool { return !o.torn[v.id] && !c.torn[v.id] && holds(c.open, v) }) {
			continue
		}
		before := first
		first = func(cl evidence.Claim) bool { return before(cl) || o.prevents(cl) }
		for _, v := range o.against {
			// One who saw eggs hatch at c's own value is no witness against it.
			if !holds(c.against, v) && !holds(c.open, v) {
				c.against = append(slices.Clip(c.against), v)
			}
		}
	}
	c.prevents = first
	return c
}

func holds(vs []voice, v voice) bool {
	return slices.ContainsFunc(vs, func(w voice) bool { return w.id == v.id })
}

// favourite is the middle of what favours: the median over the claims.
func favourite(vs []voice, unit string) float64 {
	var all []float64
	for _, v := range vs {
		for _, c := range v.claims {
			if hasNumber(c) && c.Unit == unit && slices.Contains(hatched, c.Bearing) {
				all = append(all, spanOf(c).middle())
			}
		}
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[len(all)/2]
}

// tooLittle reports whether the value failed for being low: those who saw no
// hatch there saw some above it, or the value is open below, or it lies below
// the middle of what favours.
func (c contest) tooLittle(unit string, middle float64) bool {
	var above, below int
	for _, v := range c.against {
		if s, ok := v.reach(unit, hatched...); ok && !c.torn[v.id] {
			if s.middle() > c.bar.middle() {
				above++
			} else {
				below++
			}
		}
	}
	switch {
	case math.IsInf(c.bar.low, -1) != math.IsInf(c.bar.high, 1):
		return math.IsInf(c.bar.low, -1)
	case above != below:
		return above > below
	}
	return c.bar.middle() < middle
}

// bars are the different spans that prevent.
func bars(vs []voice, unit string) []span {
	var out []span
	for _, v := range vs {
		for _, c := range v.claims {
			if hasNumber(c) && c.Unit == unit && c.Bearing == evidence.Prevents {
				out = append(out, spanOf(c))
			}
		}
	}
	slices.SortFunc(out, compareSpans)
	return slices.Compact(out)
}

// contest is who saw eggs hatch at a value and who saw none.
type contest struct {
	bar           span
	prevents      func(evidence.Claim) bool
	open, against []voice
	torn          map[string]bool
	own           int // sources on the weaker side by their own findings
	weaker, all   int // sources on the weaker side and on both, torn ones apart
}

func contestAt(g group, vs []voice, unit string, bar span) contest {
	c := contest{bar: bar, torn: map[string]bool{}}
	c.prevents = func(cl evidence.Claim) bool {
		return hasNumber(cl) && cl.Unit == unit && cl.Bearing == evidence.Prevents && overlap(g.factor, bar, spanOf(cl))
	}
	stands := func(v voice) (isFor, isAgainst bool) {
		reach, ok := v.reach(unit, hatched...)
		within := ok && overlap(g.factor, reach, bar) || slices.ContainsFunc(v.claims, func(cl evidence.Claim) bool {
			return hasNumber(cl) && cl.Unit == unit && slices.Contains(hatched, cl.Bearing) && overlap(g.factor, spanOf(cl), bar)
		})
		return within, slices.ContainsFunc(v.claims, c.prevents)
	}
	var open, against, ownOpen, ownAgainst int
	for _, v := range vs {
		isFor, isAgainst := stands(v)
		c.torn[v.id] = isFor && isAgainst
		if isFor {
			c.open = append(c.open, v)
		}
		if isAgainst {
			c.against = append(c.against, v)
		}
		open, against = tally(open, against, isFor, isAgainst)
		isFor, isAgainst = stands(v.firsthand())
		ownOpen, ownAgainst = tally(ownOpen, ownAgainst, isFor, isAgainst)
	}
	c.own, c.weaker, c.all = min(ownOpen, ownAgainst), min(open, against), open+against
	return c
}

// tally counts a source that stands on one side alone.
func tally(open, against int, isFor, isAgainst bool) (int, int) {
	switch {
	case isFor && !isAgainst:
		open++
	case isAgainst && !isFor:
		against++
	}
	return open, against
}

// firsthand is the voice without what others say of it.
func (v voice) firsthand() voice {
	v.claims = slices.DeleteFunc(slices.Clone(v.claims), func(c evidence.Claim) bool { return c.Secondhand })
	return v
}

// outweighs compares by the findings on the weaker side, then by the sources,
// then by how narrow the value is.
func (c contest) outweighs(d contest) bool {
	return cmp.Or(cmp.Compare(c.own, d.own), cmp.Compare(c.weaker, d.weaker), cmp.Compare(c.all, d.all),
		cmp.Compare(d.bar.high-d.bar.low, c.bar.high-c.bar.low)) > 0
}

func (c contest) conflict(lib *shelf, g group, unit, which string) Conflict {
	out := Conflict{Taxon: g.taxon, Factor: g.factor, Kind: Opposed, which: which, at: &c.bar}
	if unit != g.factor.Unit() {
		out.which += ":" + unit
	}
	bearing := near(g.factor, c.open, c.bar, unit)
	for _, b := range hatched {
		s := side(lib, c.open, c.torn, func(cl evidence.Claim) bool { return cl.Bearing == b && bearing(cl) })
		if len(s.claims) > 0 {
			out.Sides = append(out.Sides, s)
		}
	}
	out.Sides = append(out.Sides, side(lib, c.against, c.torn, c.prevents))
	for _, vs := range [][]voice{c.open, c.against} {
		s := side(lib, vs, nil, func(cl evidence.Claim) bool {
			return hasNumber(cl) && cl.Unit == unit && cl.Bearing == evidence.Favours && !cl.Secondhand && !overlap(g.factor, spanOf(cl), c.bar)
		})
		if len(s.claims) > 0 {
			s.Value = levelsOf(s.claims)
			out.Elsewhere = append(out.Elsewhere, s)
		}
	}
	return out
}

// mostLevels is how many values a line can name before it says less by saying
// more.
const mostLevels = 8

// levelsOf lists the different values of claims, smallest first; of many, their
// range.
func levelsOf(claims []evidence.Claim) string {
	var spans []span
	for _, c := range claims {
		spans = append(spans, spanOf(c))
	}
	slices.SortFunc(spans, compareSpans)
	spans = slices.Compact(spans)
	if len(spans) > mostLevels {
		whole := spans[0]
		for _, s := range spans[1:] {
			whole = whole.join(s)
		}
		spans = []span{whole}
	}
	var words []string
	for _, s := range spans {
		low, high := s.ends()
		words = append(words, valueOf(low, high, claims[0].Unit, ""))
	}
	return listed(words)
}

// disagree reports whether one source stands on each side alone.
func disagree(a, b []voice, torn map[string]bool) bool {
	alone := func(v voice) bool { return !torn[v.id] }
	return slices.ContainsFunc(a, alone) && slices.ContainsFunc(b, alone)
}

// near takes the claims that lie in the barred span, and of a voice that only
// reaches across it those next to it on either hand.
func near(f evidence.Factor, vs []voice, bar span, unit string) func(evidence.Claim) bool {
	taken := map[string]bool{}
	for _, v := range vs {
		var within, beside []evidence.Claim
		below, above := math.Inf(-1), math.Inf(1)
		for _, c := range v.claims {
			s := spanOf(c)
			switch {
			case !hasNumber(c) || c.Unit != unit || !slices.Contains(hatched, c.Bearing):
				continue
			case overlap(f, s, bar):
				within = append(within, c)
			case s.high <= bar.low:
				below = max(below, s.high)
			default:
				above = min(above, s.low)
			}
			beside = append(beside, c)
		}
		if len(within) == 0 {
			within = slices.DeleteFunc(beside, func(c evidence.Claim) bool { s := spanOf(c); return s.high != below && s.low != above })
		}
		for _, c := range within {
			taken[place(c)] = true
		}
	}
	return func(c evidence.Claim) bool { return taken[place(c)] }
}

// place tells claims apart.
func place(c evidence.Claim) string {
	return fmt.Sprint(c.ID, c.Paper, c.Page, c.Start, Value(c), c.Bearing)
}

// outcomes compares what came of the eggs. Fractions and times depend on the
// treatment, so sources conflict only when their ranges do not meet and their
// middles differ more than twofold (our own judgement, no source).
func outcomes(lib *shelf, g group, vs []voice, unit string) []Conflict {
	cs := clusters(g.factor, vs, func(v voice) (span, bool) { return v.reach(unit, evidence.Favours) })
	for i := 1; i < len(cs); {
		if clearly(cs[i-1].whole, cs[i].whole) {
			i++
			continue
		}
		cs[i-1].whole = cs[i-1].whole.join(cs[i].whole)
		cs[i-1].voices = append(cs[i-1].voices, cs[i].voices...)
		cs = slices.Delete(cs, i, i+1)
	}
	if len(cs) < 2 {
		return nil
	}
	return []Conflict{{Taxon: g.taxon, Factor: g.factor, Kind: Apart, Sides: sidesOf(lib, cs, unit)}}
}

// clearly reports whether b lies more than twofold above a.
func clearly(a, b span) bool { return b.middle() > 2*a.middle() }

// middle is the middle of a span, or its end where the other is open.
func (s span) middle() float64 {
	low, high := s.ends()
	switch {
	case low == nil && high == nil:
		return 0
	case low == nil:
		return *high
	case high == nil:
		return *low
	}
	return (*low + *high) / 2
}

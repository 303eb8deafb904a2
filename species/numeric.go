package species

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// hatched are the bearings under which eggs hatched.
var hatched = []evidence.Bearing{evidence.Favours, evidence.Indifferent}

// numbers finds conflicts between values, unit by unit.
func numbers(lib *witness.Shelf, g witness.Group, vs []witness.Voice) []conflict.Conflict {
	var out []conflict.Conflict
	for _, unit := range unitsOf(g.Claims) {
		if m, _ := evidence.MeasureOf(g.Factor); m.Outcome {
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
		if value.HasNumber(c) && !slices.Contains(out, c.Unit) {
			out = append(out, c.Unit)
		}
	}
	slices.Sort(out)
	return out
}

// cluster is voices whose spans meet one another in a chain.
type cluster struct {
	whole  value.Span
	voices []witness.Voice
}

// clusters joins voices by the spans that reach gives. A voice without a span
// is in none.
func clusters(f evidence.Factor, vs []witness.Voice, reach func(witness.Voice) (value.Span, bool)) []cluster {
	type placed struct {
		value.Span
		witness.Voice
	}
	var ps []placed
	for _, v := range vs {
		if s, ok := reach(v); ok {
			ps = append(ps, placed{s, v})
		}
	}
	slices.SortStableFunc(ps, func(a, b placed) int { return value.Compare(a.Span, b.Span) })
	var out []cluster
	for _, p := range ps {
		if n := len(out); n > 0 && value.Meet(f, out[n-1].whole, p.Span) {
			out[n-1].whole = out[n-1].whole.Join(p.Span)
			out[n-1].voices = append(out[n-1].voices, p.Voice)
			continue
		}
		out = append(out, cluster{p.Span, []witness.Voice{p.Voice}})
	}
	return out
}

// apart finds ranges that favour and do not meet. All levels at which one
// source saw eggs hatch are one range: a paper that tested several levels is
// not in conflict with itself.
func apart(lib *witness.Shelf, g witness.Group, vs []witness.Voice, unit string) []conflict.Conflict {
	cs := clusters(g.Factor, vs, func(v witness.Voice) (value.Span, bool) { return v.Reach(unit, evidence.Favours) })
	if len(cs) < 2 {
		return nil
	}
	return []conflict.Conflict{{Taxon: g.Taxon, Factor: g.Factor, Kind: conflict.Apart, Sides: sidesOf(lib, cs, unit)}}
}

func sidesOf(lib *witness.Shelf, cs []cluster, unit string) []conflict.Side {
	var out []conflict.Side
	for _, c := range cs {
		s := conflict.NewSide(lib, c.voices, nil, func(c evidence.Claim) bool {
			return value.HasNumber(c) && c.Unit == unit && c.Bearing == evidence.Favours
		})
		s.Value = cmp.Or(value.Print(s.Low, s.High, s.Unit, ""), s.Extent())
		out = append(out, s)
	}
	return out
}

// opposed finds values at which one source saw eggs hatch and another saw
// none: at most one where that was too little and one where it was too much, at
// the value that most sources dispute. A source with both
// outcomes at that value is torn, and opposes nobody.
func opposed(lib *witness.Shelf, g witness.Group, vs []witness.Voice, unit string) []conflict.Conflict {
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
	var out []conflict.Conflict
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
		if o.bar == c.bar || !slices.ContainsFunc(o.open, func(v witness.Voice) bool { return !o.torn[v.ID] && !c.torn[v.ID] && witness.Holds(c.open, v) }) {
			continue
		}
		before := first
		first = func(cl evidence.Claim) bool { return before(cl) || o.prevents(cl) }
		for _, v := range o.against {
			// One who saw eggs hatch at c's own value is no witness against it.
			if !witness.Holds(c.against, v) && !witness.Holds(c.open, v) {
				c.against = append(slices.Clip(c.against), v)
			}
		}
	}
	c.prevents = first
	return c
}

// favourite is the middle of what favours: the median over the claims.
func favourite(vs []witness.Voice, unit string) float64 {
	var all []float64
	for _, v := range vs {
		for _, c := range v.Claims {
			if value.HasNumber(c) && c.Unit == unit && slices.Contains(hatched, c.Bearing) {
				all = append(all, value.SpanOf(c).Middle())
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
		if s, ok := v.Reach(unit, hatched...); ok && !c.torn[v.ID] {
			if s.Middle() > c.bar.Middle() {
				above++
			} else {
				below++
			}
		}
	}
	switch {
	case math.IsInf(c.bar.Low, -1) != math.IsInf(c.bar.High, 1):
		return math.IsInf(c.bar.Low, -1)
	case above != below:
		return above > below
	}
	return c.bar.Middle() < middle
}

// bars are the different spans that prevent.
func bars(vs []witness.Voice, unit string) []value.Span {
	var out []value.Span
	for _, v := range vs {
		for _, c := range v.Claims {
			if value.HasNumber(c) && c.Unit == unit && c.Bearing == evidence.Prevents {
				out = append(out, value.SpanOf(c))
			}
		}
	}
	slices.SortFunc(out, value.Compare)
	return slices.Compact(out)
}

// contest is who saw eggs hatch at a value and who saw none.
type contest struct {
	bar           value.Span
	prevents      func(evidence.Claim) bool
	open, against []witness.Voice
	torn          map[string]bool
	own           int // sources on the weaker side by their own findings
	weaker, all   int // sources on the weaker side and on both, torn ones apart
}

func contestAt(g witness.Group, vs []witness.Voice, unit string, bar value.Span) contest {
	c := contest{bar: bar, torn: map[string]bool{}}
	c.prevents = func(cl evidence.Claim) bool {
		return value.HasNumber(cl) && cl.Unit == unit && cl.Bearing == evidence.Prevents && value.Overlap(g.Factor, bar, value.SpanOf(cl))
	}
	stands := func(v witness.Voice) (isFor, isAgainst bool) {
		reach, ok := v.Reach(unit, hatched...)
		within := ok && value.Overlap(g.Factor, reach, bar) || slices.ContainsFunc(v.Claims, func(cl evidence.Claim) bool {
			return value.HasNumber(cl) && cl.Unit == unit && slices.Contains(hatched, cl.Bearing) && value.Overlap(g.Factor, value.SpanOf(cl), bar)
		})
		return within, slices.ContainsFunc(v.Claims, c.prevents)
	}
	var open, against, ownOpen, ownAgainst int
	for _, v := range vs {
		isFor, isAgainst := stands(v)
		c.torn[v.ID] = isFor && isAgainst
		if isFor {
			c.open = append(c.open, v)
		}
		if isAgainst {
			c.against = append(c.against, v)
		}
		open, against = tally(open, against, isFor, isAgainst)
		isFor, isAgainst = stands(v.Firsthand())
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

// outweighs compares by the findings on the weaker side, then by the sources,
// then by how narrow the value is.
func (c contest) outweighs(d contest) bool {
	return cmp.Or(cmp.Compare(c.own, d.own), cmp.Compare(c.weaker, d.weaker), cmp.Compare(c.all, d.all),
		cmp.Compare(d.bar.High-d.bar.Low, c.bar.High-c.bar.Low)) > 0
}

func (c contest) conflict(lib *witness.Shelf, g witness.Group, unit, which string) conflict.Conflict {
	out := conflict.Conflict{Taxon: g.Taxon, Factor: g.Factor, Kind: conflict.Opposed, Which: which, At: &c.bar}
	if unit != g.Factor.Unit() {
		out.Which += ":" + unit
	}
	bearing := near(g.Factor, c.open, c.bar, unit)
	for _, b := range hatched {
		s := conflict.NewSide(lib, c.open, c.torn, func(cl evidence.Claim) bool { return cl.Bearing == b && bearing(cl) })
		if len(s.Told) > 0 {
			out.Sides = append(out.Sides, s)
		}
	}
	out.Sides = append(out.Sides, conflict.NewSide(lib, c.against, c.torn, c.prevents))
	for _, vs := range [][]witness.Voice{c.open, c.against} {
		s := conflict.NewSide(lib, vs, nil, func(cl evidence.Claim) bool {
			return value.HasNumber(cl) && cl.Unit == unit && cl.Bearing == evidence.Favours && !cl.Secondhand && !value.Overlap(g.Factor, value.SpanOf(cl), c.bar)
		})
		if len(s.Told) > 0 {
			s.Value = levelsOf(s.Told)
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
	var spans []value.Span
	for _, c := range claims {
		spans = append(spans, value.SpanOf(c))
	}
	slices.SortFunc(spans, value.Compare)
	spans = slices.Compact(spans)
	if len(spans) > mostLevels {
		whole := spans[0]
		for _, s := range spans[1:] {
			whole = whole.Join(s)
		}
		spans = []value.Span{whole}
	}
	var words []string
	for _, s := range spans {
		low, high := s.Ends()
		words = append(words, value.Print(low, high, claims[0].Unit, ""))
	}
	return witness.Listed(words)
}

// disagree reports whether one source stands on each side alone.
func disagree(a, b []witness.Voice, torn map[string]bool) bool {
	alone := func(v witness.Voice) bool { return !torn[v.ID] }
	return slices.ContainsFunc(a, alone) && slices.ContainsFunc(b, alone)
}

// near takes the claims that lie in the barred span, and of a voice that only
// reaches across it those next to it on either hand.
func near(f evidence.Factor, vs []witness.Voice, bar value.Span, unit string) func(evidence.Claim) bool {
	taken := map[string]bool{}
	for _, v := range vs {
		var within, beside []evidence.Claim
		below, above := math.Inf(-1), math.Inf(1)
		for _, c := range v.Claims {
			s := value.SpanOf(c)
			switch {
			case !value.HasNumber(c) || c.Unit != unit || !slices.Contains(hatched, c.Bearing):
				continue
			case value.Overlap(f, s, bar):
				within = append(within, c)
			case s.High <= bar.Low:
				below = max(below, s.High)
			default:
				above = min(above, s.Low)
			}
			beside = append(beside, c)
		}
		if len(within) == 0 {
			within = slices.DeleteFunc(beside, func(c evidence.Claim) bool { s := value.SpanOf(c); return s.High != below && s.Low != above })
		}
		for _, c := range within {
			taken[place(c)] = true
		}
	}
	return func(c evidence.Claim) bool { return taken[place(c)] }
}

// place tells claims apart.
func place(c evidence.Claim) string {
	return fmt.Sprint(c.ID, c.Paper, c.Page, c.Start, value.Of(c), c.Bearing)
}

// outcomes compares what came of the eggs. Fractions and times depend on the
// treatment, so sources conflict only when their ranges do not meet and their
// middles differ more than twofold (our own judgement, no source).
func outcomes(lib *witness.Shelf, g witness.Group, vs []witness.Voice, unit string) []conflict.Conflict {
	cs := clusters(g.Factor, vs, func(v witness.Voice) (value.Span, bool) { return v.Reach(unit, evidence.Favours) })
	for i := 1; i < len(cs); {
		if clearly(cs[i-1].whole, cs[i].whole) {
			i++
			continue
		}
		cs[i-1].whole = cs[i-1].whole.Join(cs[i].whole)
		cs[i-1].voices = append(cs[i-1].voices, cs[i].voices...)
		cs = slices.Delete(cs, i, i+1)
	}
	if len(cs) < 2 {
		return nil
	}
	return []conflict.Conflict{{Taxon: g.Taxon, Factor: g.Factor, Kind: conflict.Apart, Sides: sidesOf(lib, cs, unit)}}
}

// clearly reports whether b lies more than twofold above a.
func clearly(a, b value.Span) bool { return b.Middle() > 2*a.Middle() }

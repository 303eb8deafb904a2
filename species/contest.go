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

// favourite is the middle of what favours: the median of the values told, each
// once, however many tell it.
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
	all = slices.Compact(all)
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
	direct        int // those of all that tell of this very value, and not only of some on either hand
}

// contestAt says who stands where at a value. A source that saw eggs hatch below and
// above it stands for it as well.
func contestAt(g witness.Group, vs []witness.Voice, unit string, bar value.Span) contest {
	tells := func(bearings ...evidence.Bearing) func(evidence.Claim) bool {
		return func(c evidence.Claim) bool {
			return value.HasNumber(c) && c.Unit == unit && slices.Contains(bearings, c.Bearing) && value.Overlap(g.Factor, value.SpanOf(c), bar)
		}
	}
	c := contest{bar: bar, torn: map[string]bool{}, prevents: tells(evidence.Prevents)}
	stands := func(v witness.Voice) (isFor, isAgainst bool) {
		reach, ok := v.Reach(unit, hatched...)
		return ok && value.Overlap(g.Factor, reach, bar) || slices.ContainsFunc(v.Claims, tells(hatched...)), slices.ContainsFunc(v.Claims, c.prevents)
	}
	var all, own votes
	for _, v := range vs {
		isFor, isAgainst := stands(v)
		if isFor {
			c.open = append(c.open, v)
		}
		if isAgainst {
			c.against = append(c.against, v)
		}
		all.add(isFor, isAgainst)
		own.add(stands(v.Firsthand()))
		c.torn[v.ID] = isFor && isAgainst
		if !c.torn[v.ID] && slices.ContainsFunc(v.Claims, tells(evidence.Favours, evidence.Indifferent, evidence.Prevents)) {
			c.direct++
		}
	}
	c.own, c.weaker, c.all = own.weaker(), all.weaker(), all.open+all.against
	return c
}

// votes counts the sources that stand on one side alone.
type votes struct{ open, against int }

func (v *votes) add(isFor, isAgainst bool) {
	switch {
	case isFor && !isAgainst:
		v.open++
	case isAgainst && !isFor:
		v.against++
	}
}

func (v votes) weaker() int { return min(v.open, v.against) }

// outweighs compares by the findings on the weaker side, then by the sources
// there, then by those that tell of the very value, then by all, then by how
// narrow the value is.
func (c contest) outweighs(d contest) bool {
	return cmp.Or(cmp.Compare(c.own, d.own), cmp.Compare(c.weaker, d.weaker), cmp.Compare(c.direct, d.direct), cmp.Compare(c.all, d.all),
		cmp.Compare(d.bar.High-d.bar.Low, c.bar.High-c.bar.Low)) > 0
}

func (c contest) conflict(lib *witness.Shelf, g witness.Group, unit, which string) conflict.Conflict {
	out := conflict.Conflict{Taxon: g.Taxon, Factor: g.Factor, Kind: conflict.Opposed, Which: which, At: &c.bar}
	if unit != g.Factor.Unit() {
		out.Which += ":" + unit
	}
	taken := near(g.Factor, c.open, c.bar, unit)
	for _, b := range hatched {
		s := conflict.NewSide(lib, c.open, c.torn, func(cl evidence.Claim) bool { return taken[place(cl)] == b })
		if len(s.Told) > 0 {
			out.Sides = append(out.Sides, s)
		}
	}
	out.Sides = append(out.Sides, conflict.NewSide(lib, c.against, c.torn, c.prevents))
	last := len(out.Sides)
	for _, camp := range []struct {
		voices []witness.Voice
		sides  []int
	}{{c.open, upTo(last - 1)}, {c.against, []int{last}}} {
		s := conflict.NewSide(lib, camp.voices, nil, func(cl evidence.Claim) bool {
			_, shown := taken[place(cl)]
			return value.HasNumber(cl) && cl.Unit == unit && cl.Bearing == evidence.Favours && !cl.Secondhand && !shown && !value.Overlap(g.Factor, value.SpanOf(cl), c.bar)
		})
		if len(s.Told) > 0 {
			s.Value = levelsOf(s.Told)
			out.Elsewhere = append(out.Elsewhere, conflict.Elsewhere{Side: s, Of: camp.sides})
		}
	}
	return out
}

// upTo counts from 1 to n.
func upTo(n int) []int {
	var out []int
	for i := range n {
		out = append(out, i+1)
	}
	return out
}

// mostLevels is how many values a line can name before it says less by saying
// more.
const mostLevels = 8

// levelsOf lists the different values of claims, smallest first; of many, from
// where to where they are printed.
func levelsOf(claims []evidence.Claim) string {
	var spans []value.Span
	for _, c := range claims {
		spans = append(spans, value.SpanOf(c))
	}
	slices.SortFunc(spans, value.Compare)
	spans = slices.Compact(spans)
	if len(spans) > mostLevels {
		spans = []value.Span{value.Printed(spans)}
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
// reaches across it those next to it on either hand, each with the bearing of the
// side on which it stands. Who cites a finding stands with it, whatever word he has
// for it.
func near(f evidence.Factor, vs []witness.Voice, bar value.Span, unit string) map[string]evidence.Bearing {
	taken := map[string]evidence.Bearing{}
	for _, v := range vs {
		at := nearOf(f, v, bar, unit)
		own := map[evidence.Bearing]bool{}
		for _, c := range at {
			own[c.Bearing] = own[c.Bearing] || !c.Secondhand
		}
		for _, c := range at {
			taken[place(c)] = c.Bearing
			for _, b := range hatched {
				if c.Secondhand && !own[c.Bearing] && own[b] {
					taken[place(c)] = b
				}
			}
		}
	}
	return taken
}

func nearOf(f evidence.Factor, v witness.Voice, bar value.Span, unit string) []evidence.Claim {
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
	if len(within) > 0 {
		return within
	}
	return slices.DeleteFunc(beside, func(c evidence.Claim) bool { s := value.SpanOf(c); return s.High != below && s.Low != above })
}

// place tells claims apart.
func place(c evidence.Claim) string {
	return fmt.Sprint(c.ID, c.Paper, c.Page, c.Start, value.Of(c), c.Bearing)
}

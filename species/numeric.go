package species

import (
	"slices"

	"hatchlore/evidence"
)

// hatched are the bearings under which eggs hatched.
var hatched = []evidence.Bearing{evidence.Favours, evidence.Indifferent}

// numbers finds conflicts between values, unit by unit.
func numbers(library Library, g group, vs []voice) []Conflict {
	var out []Conflict
	for _, unit := range unitsOf(g.claims) {
		if m, _ := evidence.MeasureOf(g.factor); m.Outcome {
			out = append(out, outcomes(library, g, vs, unit)...)
			continue
		}
		out = append(out, opposed(library, g, vs, unit)...)
		out = append(out, apart(library, g, vs, unit)...)
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
func apart(library Library, g group, vs []voice, unit string) []Conflict {
	cs := clusters(g.factor, vs, func(v voice) (span, bool) { return v.reach(unit, evidence.Favours) })
	if len(cs) < 2 {
		return nil
	}
	return []Conflict{{Taxon: g.taxon, Factor: g.factor, Kind: Apart, Sides: sidesOf(library, cs, unit)}}
}

func sidesOf(library Library, cs []cluster, unit string) []Side {
	var out []Side
	for _, c := range cs {
		out = append(out, side(library, c.voices, nil, func(c evidence.Claim) bool {
			return hasNumber(c) && c.Unit == unit && c.Bearing == evidence.Favours
		}))
	}
	return out
}

// opposed finds values at which one source saw eggs hatch and another saw
// none. Values that prevent are joined only where they overlap; a source with
// both outcomes there is torn, and opposes nobody.
func opposed(library Library, g group, vs []voice, unit string) []Conflict {
	var out []Conflict
	for _, bar := range barred(g, vs, unit) {
		bars := func(c evidence.Claim) bool {
			return hasNumber(c) && c.Unit == unit && c.Bearing == evidence.Prevents && overlap(g.factor, bar, spanOf(c))
		}
		var against, open []voice
		torn := map[string]bool{}
		for _, v := range vs {
			isAgainst := slices.ContainsFunc(v.claims, bars)
			s, ok := v.reach(unit, hatched...)
			isFor := ok && overlap(g.factor, s, bar)
			if isAgainst {
				against = append(against, v)
			}
			if isFor {
				open = append(open, v)
			}
			torn[v.id] = isAgainst && isFor
		}
		if !disagree(open, against, torn) {
			continue
		}
		c := Conflict{Taxon: g.taxon, Factor: g.factor, Kind: Opposed}
		for _, b := range hatched {
			s := side(library, open, torn, near(g.factor, open, bar, unit, b))
			if len(s.claims) > 0 {
				c.Sides = append(c.Sides, s)
			}
		}
		c.Sides = append(c.Sides, side(library, against, torn, bars))
		out = append(out, c)
	}
	return out
}

// disagree reports whether one source stands on each side alone.
func disagree(a, b []voice, torn map[string]bool) bool {
	alone := func(v voice) bool { return !torn[v.id] }
	return slices.ContainsFunc(a, alone) && slices.ContainsFunc(b, alone)
}

// barred joins the spans that prevent where they overlap.
func barred(g group, vs []voice, unit string) []span {
	var bars []span
	for _, v := range vs {
		for _, c := range v.claims {
			if hasNumber(c) && c.Unit == unit && c.Bearing == evidence.Prevents {
				bars = append(bars, spanOf(c))
			}
		}
	}
	slices.SortFunc(bars, compareSpans)
	var out []span
	for _, b := range bars {
		if n := len(out); n > 0 && (out[n-1] == b || overlap(g.factor, out[n-1], b)) {
			out[n-1] = out[n-1].join(b)
			continue
		}
		out = append(out, b)
	}
	return out
}

// near takes the claims of a bearing that lie in the barred span, or all of a
// voice that only reaches across it.
func near(f evidence.Factor, vs []voice, bar span, unit string, b evidence.Bearing) func(evidence.Claim) bool {
	within := func(c evidence.Claim) bool {
		return hasNumber(c) && c.Unit == unit && slices.Contains(hatched, c.Bearing) && overlap(f, spanOf(c), bar)
	}
	across := map[string]bool{}
	for _, v := range vs {
		if !slices.ContainsFunc(v.claims, within) {
			for _, c := range v.claims {
				across[c.ID] = true
			}
		}
	}
	return func(c evidence.Claim) bool {
		return c.Bearing == b && (within(c) || across[c.ID] && hasNumber(c) && c.Unit == unit)
	}
}

// outcomes compares what came of the eggs. Fractions and times depend on the
// treatment, so sources conflict only when their ranges do not meet and their
// middles differ more than twofold (our own judgement, no source).
func outcomes(library Library, g group, vs []voice, unit string) []Conflict {
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
	return []Conflict{{Taxon: g.taxon, Factor: g.factor, Kind: Apart, Sides: sidesOf(library, cs, unit)}}
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

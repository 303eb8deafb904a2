package species

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// numbers finds conflicts between values, unit by unit.
func numbers(lib *witness.Shelf, g witness.Group, vs []witness.Voice) []conflict.Conflict {
	var out []conflict.Conflict
	for _, unit := range unitsOf(g.Claims) {
		if m, _ := evidence.MeasureOf(g.Factor); m.Outcome {
			out = append(out, outcomes(lib, g, vs, unit)...)
			continue
		}
		values := opposed(lib, g, vs, unit)
		out = append(out, values...)
		if ranges, ok := apart(lib, g, vs, unit); ok && !covered(ranges, values) {
			out = append(out, ranges)
		}
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
// not in conflict with itself. A value that a source merely used stands with the
// range in which it lies, and makes none.
func apart(lib *witness.Shelf, g witness.Group, vs []witness.Voice, unit string) (c conflict.Conflict, ok bool) {
	reach := func(v witness.Voice) (value.Span, bool) { return v.Reach(unit, evidence.Favours) }
	var comparing, using []witness.Voice
	for _, v := range vs {
		if used(g.Factor, v, unit) && !mistaken(v, vs) {
			using = append(using, v)
		} else {
			comparing = append(comparing, v)
		}
	}
	cs := clusters(g.Factor, comparing, reach)
	if len(cs) < 2 {
		return c, false
	}
	for _, v := range using {
		if s, ok := reach(v); ok {
			if i := slices.IndexFunc(cs, func(c cluster) bool { return value.Meet(g.Factor, c.whole, s) }); i >= 0 {
				cs[i].voices = append(cs[i].voices, v)
			}
		}
	}
	return conflict.Conflict{Taxon: g.Taxon, Factor: g.Factor, Kind: conflict.Apart, Sides: sidesOf(lib, cs, unit)}, true
}

// givens are what every hatching has some value of, whether the paper is about it
// or not.
var givens = []evidence.Factor{evidence.StorageLength, evidence.ColdTemperature, evidence.WarmTemperature, evidence.Conductivity, evidence.Salinity, evidence.PH, evidence.Oxygen}

// used reports whether a source merely used a value: all it tells by its own
// findings is that eggs hatched at one, so that it contradicts nobody who hatched
// eggs at another.
func used(f evidence.Factor, v witness.Voice, unit string) bool {
	told, ok := v.Firsthand().Reach(unit, evidence.Favours, evidence.Prevents, evidence.Indifferent)
	return ok && slices.Contains(givens, f) && told.High-told.Low <= value.Slack(f, told.High)
}

// mistaken reports whether a value of v would be another source's in the right
// unit, or is cited as another: then one of the two is misprinted.
func mistaken(v witness.Voice, vs []witness.Voice) bool {
	return slices.ContainsFunc(vs, func(w witness.Voice) bool {
		return w.ID != v.ID && (w.Paper == v.Paper || slices.ContainsFunc(v.Claims, func(a evidence.Claim) bool {
			return a.Bearing == evidence.Favours && slices.ContainsFunc(w.Claims, func(b evidence.Claim) bool {
				return b.Bearing == evidence.Favours && witness.Slipped(a, b)
			})
		}))
	})
}

// covered reports whether every two ranges stand against each other in one of the
// disputed values already: then the ranges say nothing new.
func covered(ranges conflict.Conflict, values []conflict.Conflict) bool {
	for i, a := range ranges.Sides {
		for _, b := range ranges.Sides[i+1:] {
			if !slices.ContainsFunc(values, func(c conflict.Conflict) bool { return opposes(c, a, b) || opposes(c, b, a) }) {
				return false
			}
		}
	}
	return true
}

// opposes reports whether somebody of range a saw eggs hatch at a disputed value
// and somebody of range b saw none.
func opposes(c conflict.Conflict, a, b conflict.Side) bool {
	last := len(c.Sides) - 1
	stands := func(sides []conflict.Side, on conflict.Side) bool {
		return slices.ContainsFunc(sides, func(s conflict.Side) bool {
			return slices.ContainsFunc(s.Voices, func(v witness.Voice) bool {
				return witness.Holds(on.Voices, v) && !slices.Contains(s.Torn, v.Paper)
			})
		})
	}
	return stands(c.Sides[:last], a) && stands(c.Sides[last:], b)
}

func sidesOf(lib *witness.Shelf, cs []cluster, unit string) []conflict.Side {
	var out []conflict.Side
	for _, c := range cs {
		out = append(out, conflict.NewSide(lib, c.voices, nil, func(c evidence.Claim) bool {
			return value.HasNumber(c) && c.Unit == unit && c.Bearing == evidence.Favours
		}).Bare())
	}
	return out
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

// Package reason looks for what could explain a conflict away: a slip of unit,
// emergence set against hatching, a side that only cites, an experiment published
// twice, eggs of other places, other conditions.
//
// It refuses to weigh: a reason is told with what was compared, and the conflict
// stays.
package reason

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/witness"
)

// Of checks the explanations in a fixed order: a slip of unit, stage,
// echo, an experiment published twice, population, other conditions.
func Of(c conflict.Conflict, claims []evidence.Claim, lib *witness.Shelf) []conflict.Reason {
	out := []conflict.Reason{}
	pairs := facing(c)
	for _, p := range pairs {
		out = append(out, unitSlips(c.Factor, p[0], p[1], lib)...)
	}
	out = append(out, stages(pairs, lib)...)
	out = append(out, Echoes(c, lib)...)
	out = append(out, twice(c.Sides, lib)...)
	out = append(out, populations(c, lib)...)
	for _, p := range pairs {
		out = append(out, conditions(c.Factor, p[0], p[1], claims, lib)...)
	}
	for i, a := range c.Sides {
		for _, b := range c.Sides[i+1:] {
			// Needless and harmful do not contradict each other, and yet what was
			// done to the eggs can tell them apart.
			out = append(out, handling(c, a, b, lib)...)
		}
	}
	return distinctReasons(out)
}

// facing returns the sides two by two that contradict each other. Those who
// dispute one value and both saw eggs hatch there do not, nor do those who call a
// treatment needless and those who call it harmful.
func facing(c conflict.Conflict) [][2]conflict.Side {
	var out [][2]conflict.Side
	for i, a := range c.Sides {
		for _, b := range c.Sides[i+1:] {
			if c.At != nil && a.Bearing != evidence.Prevents && b.Bearing != evidence.Prevents || c.Kind == conflict.Need && i > 0 {
				continue
			}
			out = append(out, [2]conflict.Side{a, b})
		}
	}
	return out
}

// camps are the sides that face each other, with all who saw eggs hatch at a
// disputed value as one, and all who deny the need for a treatment.
func camps(c conflict.Conflict) [][2]conflict.Side {
	if c.At == nil && c.Kind != conflict.Need {
		return facing(c)
	}
	var two [2]conflict.Side
	for i, s := range c.Sides {
		k := &two[0]
		if c.At != nil && s.Bearing == evidence.Prevents || c.At == nil && i > 0 {
			k = &two[1]
		}
		k.Told = append(k.Told, s.Told...)
		k.Papers = append(k.Papers, s.Papers...)
		k.Torn = append(k.Torn, s.Torn...)
	}
	return [][2]conflict.Side{two}
}

// distinctReasons drops repetitions, and of each other condition all but the
// first pair of sides that it tells apart.
func distinctReasons(rs []conflict.Reason) []conflict.Reason {
	out := []conflict.Reason{}
	for _, r := range rs {
		if !slices.ContainsFunc(out, func(o conflict.Reason) bool {
			return o.Kind == r.Kind && (o.Note == r.Note || r.Kind == conflict.Conditions && o.Factor == r.Factor && o.Handling == r.Handling)
		}) {
			out = append(out, r)
		}
	}
	return out
}

package rule

import (
	"slices"

	"hatchlore/evidence"
)

// oneChanged blames a failure on the one condition that was changed next: "eggs
// chilled for 12 weeks did not hatch in water of 2.2 mS/cm. When it was replaced
// by water of 0.3 mS/cm, 66 % hatched" says nothing against the 12 weeks.
func (r *reading) oneChanged(found []*finding) {
	for i := 0; i < len(found); {
		k := i
		for k < len(found) && found[k].s.Index == found[i].s.Index {
			k++
		}
		r.blameOne(found[i:k], ofSentence(found[k:], found[i].s.Index+1))
		i = k
	}
}

// ofSentence returns the findings of one sentence at the head of a list.
func ofSentence(found []*finding, index int) []*finding {
	k := 0
	for k < len(found) && found[k].s.Index == index {
		k++
	}
	return found[:k]
}

// blameOne turns the failures of a sentence into conditions under which eggs
// hatched after all, where the next sentence changes one of them alone, and
// eggs hatch.
func (r *reading) blameOne(failed, then []*finding) {
	isCondition := func(f *finding) bool {
		return f.factor != evidence.HatchingFraction && f.factor != evidence.TimeToHatch && (f.low != nil || f.high != nil)
	}
	var next *finding
	for _, g := range then {
		switch {
		case !isCondition(g):
		case next != nil || g.bearing != evidence.Favours || g.t.Siblings > 1:
			return
		default:
			next = g
		}
	}
	if next == nil || !slices.ContainsFunc(failed, func(f *finding) bool {
		return f.factor == next.factor && f.bearing == evidence.Prevents && !sameValue(f, next) && f.t.Siblings == 1 && shareName(f, next)
	}) {
		return
	}
	for _, f := range failed {
		if f.factor != next.factor && f.bearing == evidence.Prevents && isCondition(f) && f.t.Clause == clauseOf(failed, next.factor) {
			f.bearing, f.borrowed = evidence.Favours, true
		}
	}
}

// clauseOf is the clause in which the factor stands.
func clauseOf(found []*finding, factor evidence.Factor) int {
	for _, f := range found {
		if f.factor == factor {
			return f.t.Clause
		}
	}
	return -1
}

// freshened adds the fall in salt that set off the hatch of eggs moved from water
// in which none hatched to fresher: "at 9 mS/cm there was no hatching; eggs brought
// back to 0.45 mS/cm hatched within three days".
func (r *reading) freshened(found []*finding) []*finding {
	const near = 10 // words between the move and the water
	var out []*finding
	for i, f := range found {
		out = append(out, f)
		if f.factor != evidence.Conductivity && f.factor != evidence.Salinity || f.bearing != evidence.Favours || f.high == nil {
			continue
		}
		c := f.s.Clauses[f.t.Clause]
		if !f.s.Between(max(c.From, f.t.From-near), f.t.From, r.Roles.Moved) || !c.Has.Meets(r.Roles.Hatch) {
			continue
		}
		salty := slices.ContainsFunc(before(found, i), func(g *finding) bool {
			return g.factor == f.factor && g.bearing == evidence.Prevents && g.low != nil && *g.low > *f.high && shareName(f, g)
		})
		told := slices.ContainsFunc(around(found, i), func(g *finding) bool {
			return g.factor == evidence.Trigger && g.category == "salinity-drop" && shareName(f, g)
		})
		if salty && !told {
			drop := *f
			drop.factor, drop.category, drop.low, drop.high, drop.borrowed = evidence.Trigger, "salinity-drop", nil, nil, true
			out = append(out, &drop)
		}
	}
	return out
}

package rule

import (
	"slices"

	"hatchlore/evidence"
)

// definedStage is what the paper says it counted as hatched: the free nauplius,
// or the embryo that has opened its shell; unsaid where it does not say. A
// sentence that cites others tells what those counted.
func (r *reading) definedStage() evidence.Stage {
	out := evidence.StageUnsaid
	for _, s := range r.sentences {
		if len(s.cites) > 0 || !s.has.meets(r.roles.Defines) {
			continue
		}
		for _, g := range s.tags {
			if !r.roles.Defines.has(g.class) {
				continue
			}
			switch part := s.part(g.from); {
			case r.inPart(s, part, r.roles.Freed):
				return evidence.StageHatching
			case r.inPart(s, part, r.roles.Opened):
				out = evidence.StageEmergence
			}
		}
	}
	return out
}

// inPart reports whether a cue stands in one of the parts of a sentence that
// semicolons make.
func (r *reading) inPart(s *sentence, part int, cue bits) bool {
	for _, g := range s.tags {
		if cue.has(g.class) && s.part(g.from) == part {
			return true
		}
	}
	return false
}

// withStage gives the paper's own outcomes the stage that it defines. Where the
// free nauplius is counted, words of emergence keep their meaning; where opened
// shells are called hatched, the paper's hatching is emergence throughout.
func (r *reading) withStage(found []Explained) []Explained {
	defined := r.definedStage()
	for i := range found {
		c := &found[i].Claim
		if c.Secondhand || c.Bearing == evidence.Reported || defined == evidence.StageUnsaid {
			continue
		}
		if c.Stage == evidence.StageUnsaid || defined == evidence.StageEmergence {
			c.Stage = defined
		}
	}
	return found
}

// tellsApart reports whether the paper says of both what they are: the embryo
// that leaves its shell and the nauplius that leaves its membrane.
func (r *reading) tellsApart() bool {
	ro := r.roles
	return slices.ContainsFunc(r.sentences, func(s *sentence) bool {
		return len(s.cites) == 0 && s.has.meets(ro.Hatch) && (s.has.meets(ro.Emerging) || s.has.meets(ro.Emergence)) && s.has.meets(ro.Opened) && s.has.meets(ro.Freed)
	})
}

// onlyEmerged reports whether a clause of a paper that tells the two apart
// speaks of emergence alone: every word for hatching in it is one for shells
// that open.
func (r *reading) onlyEmerged(s *sentence, c *clause) bool {
	ro := r.roles
	if !r.apart || !c.has.meets(ro.Emerging) && !c.has.meets(ro.Emergence) {
		return false
	}
	return !slices.ContainsFunc(s.tags, func(g tag) bool {
		return ro.Hatch.has(g.class) && g.from >= c.from && g.from < c.to && !s.overlapsTag(g, ro.Emerging) && !s.overlapsTag(g, ro.Emergence)
	})
}

// stage tells emergence from hatching by the words of the target's clause. What
// emerged and yet failed did not hatch.
func (r *reading) stage(f *finding) evidence.Stage {
	s, t := f.s, f.t
	c := &s.clauses[t.clause]
	switch {
	case f.bearing == evidence.Prevents && f.factor != evidence.HatchingFraction && c.has.meets(r.roles.Emergence) && !r.emergenceDenied(s, c):
		return evidence.StageHatching
	case r.onlyEmerged(s, c) && t.q == nil && slices.ContainsFunc(s.clauses[t.clause+1:], func(o clause) bool { return o.bears == evidence.Favours }):
		return evidence.StageHatching // "nitrogen made 46 % emerge and 29 % hatch"
	case r.onlyEmerged(s, c):
		return evidence.StageEmergence
	case c.has.meets(r.roles.Hatch):
		return evidence.StageHatching
	case c.has.meets(r.roles.Emergence):
		return evidence.StageEmergence
	}
	return evidence.StageUnsaid
}

// emerged adds what a paper that tells emergence from hatching says of shells
// that opened under a condition: "at 20 °C 72 % emerged and none hatched" tells
// of both. Where eggs hatched, that they emerged goes without saying.
func (r *reading) emerged(found []*finding) []*finding {
	if !r.apart {
		return found
	}
	var out []*finding
	for _, f := range found {
		c := &f.s.clauses[f.t.clause]
		if f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch || f.factor == evidence.Trigger ||
			f.low == nil && f.high == nil || !r.onlyEmerged(f.s, c) || c.has.meets(r.roles.Neg) || c.has.meets(r.roles.Aim) {
			out = append(out, f)
			continue
		}
		opened := *f
		opened.bearing, opened.context, opened.stage = evidence.Favours, false, evidence.StageEmergence
		if f.borrowed { // the next clause says what became of them
			f.stage = evidence.StageHatching
			out = append(out, f)
		}
		out = append(out, &opened)
	}
	for i, f := range out {
		f.dropped = f.dropped || f.stage == evidence.StageEmergence && slices.ContainsFunc(around(out, i), func(g *finding) bool {
			return g.stage != evidence.StageEmergence && g.factor == f.factor && g.bearing == evidence.Favours && sameValue(f, g) && shareName(f, g)
		})
	}
	return out
}

// emergenceDenied reports whether the clause says that nothing emerged.
func (r *reading) emergenceDenied(s *sentence, c *clause) bool {
	return slices.ContainsFunc(s.tags, func(g tag) bool {
		return r.roles.Emergence.has(g.class) && g.from >= c.from && g.from < c.to && r.negated(s, c, g)
	})
}

package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// definedStage is what the paper says it counted as hatched: the free nauplius,
// or the embryo that has opened its shell; unsaid where it does not say. A
// sentence that cites others tells what those counted.
func (r *reading) definedStage() evidence.Stage {
	out := evidence.StageUnsaid
	for _, s := range r.Sentences {
		if len(s.Cites) > 0 || !s.Has.Meets(r.Roles.Defines) {
			continue
		}
		for _, g := range s.Tags {
			if !r.Roles.Defines.Has(g.Class) {
				continue
			}
			switch part := s.Part(g.From); {
			case r.inPart(s, part, r.Roles.Freed):
				return evidence.StageHatching
			case r.inPart(s, part, r.Roles.Opened):
				out = evidence.StageEmergence
			}
		}
	}
	return out
}

// inPart reports whether a cue stands in one of the parts of a sentence that
// semicolons make.
func (r *reading) inPart(s *marked.Sentence, part int, cue marked.Bits) bool {
	for _, g := range s.Tags {
		if cue.Has(g.Class) && s.Part(g.From) == part {
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

// stage tells emergence from hatching by the words of the target's clause. What
// emerged and yet failed did not hatch.
func (r *reading) stage(f *finding) evidence.Stage {
	s, t := f.s, f.t
	c := &s.Clauses[t.Clause]
	switch {
	case f.bearing == evidence.Prevents && f.factor != evidence.HatchingFraction && c.Has.Meets(r.Roles.Emergence) && !r.emergenceDenied(s, c):
		return evidence.StageHatching
	case r.OnlyEmerged(s, c) && t.Q == nil && slices.ContainsFunc(s.Clauses[t.Clause+1:], func(o marked.Clause) bool { return o.Bears == evidence.Favours }):
		return evidence.StageHatching // "nitrogen made 46 % emerge and 29 % hatch"
	case r.OnlyEmerged(s, c):
		return evidence.StageEmergence
	case c.Has.Meets(r.Roles.Hatch):
		return evidence.StageHatching
	case c.Has.Meets(r.Roles.Emergence):
		return evidence.StageEmergence
	}
	return evidence.StageUnsaid
}

// emerged adds what a paper that tells emergence from hatching says of shells
// that opened under a condition: "at 20 °C 72 % emerged and none hatched" tells
// of both. Where eggs hatched, that they emerged goes without saying.
func (r *reading) emerged(found []*finding) []*finding {
	if !r.Apart {
		return found
	}
	var out []*finding
	for _, f := range found {
		c := &f.s.Clauses[f.t.Clause]
		if f.factor == evidence.HatchingFraction || f.factor == evidence.TimeToHatch || f.factor == evidence.Trigger ||
			f.low == nil && f.high == nil || !r.OnlyEmerged(f.s, c) || c.Has.Meets(r.Roles.Neg) || c.Has.Meets(r.Roles.Aim) {
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
func (r *reading) emergenceDenied(s *marked.Sentence, c *marked.Clause) bool {
	return slices.ContainsFunc(s.Tags, func(g marked.Tag) bool {
		return r.Roles.Emergence.Has(g.Class) && g.From >= c.From && g.From < c.To && r.Negated(s, c, g)
	})
}

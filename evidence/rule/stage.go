package rule

import (
	"hatchlore/evidence"
)

// definedStage is what the paper says it counted as hatched: the free nauplius,
// or the embryo that has opened its shell; unsaid where it does not say. A
// sentence that cites others tells what those counted.
func (r *reading) definedStage() evidence.Stage {
	out := evidence.StageUnsaid
	for _, s := range r.sentences {
		if len(s.cites) > 0 || !s.has.meets(r.set.roles.defines) {
			continue
		}
		for _, g := range s.tags {
			if !r.set.roles.defines.has(g.class) {
				continue
			}
			switch part := s.part(g.from); {
			case r.inPart(s, part, r.set.roles.freed):
				return evidence.StageHatching
			case r.inPart(s, part, r.set.roles.opened):
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

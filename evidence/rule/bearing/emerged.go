package bearing

import (
	"slices"

	"hatchlore/evidence/rule/marked"
)

// tellsApart reports whether the paper says of both what they are: the embryo
// that leaves its shell and the nauplius that leaves its membrane.
func (r *Judged) tellsApart() bool {
	ro := r.Roles
	return slices.ContainsFunc(r.Sentences, func(s *marked.Sentence) bool {
		return len(s.Cites) == 0 && s.Has.Meets(ro.Hatch) && (s.Has.Meets(ro.Emerging) || s.Has.Meets(ro.Emergence)) && s.Has.Meets(ro.Opened) && s.Has.Meets(ro.Freed)
	})
}

// OnlyEmerged reports whether a clause of a paper that tells the two apart
// speaks of emergence alone: every word for hatching in it is one for shells
// that open.
func (r *Judged) OnlyEmerged(s *marked.Sentence, c *marked.Clause) bool {
	ro := r.Roles
	if !r.Apart || !c.Has.Meets(ro.Emerging) && !c.Has.Meets(ro.Emergence) {
		return false
	}
	return !slices.ContainsFunc(s.Tags, func(g marked.Tag) bool {
		return ro.Hatch.Has(g.Class) && g.From >= c.From && g.From < c.To && !s.OverlapsTag(g, ro.Emerging) && !s.OverlapsTag(g, ro.Emergence)
	})
}

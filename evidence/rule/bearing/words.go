package bearing

import (
	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// own decides from the words of the clause alone.
func (r *Judged) own(s *marked.Sentence, c *marked.Clause) (evidence.Bearing, int) {
	ro := r.Roles
	share := HasShare(s, c)
	if c.Has.Meets(ro.YoungCount) && !c.Has.Meets(ro.Neg) {
		return evidence.Favours, -1
	}
	if (c.Has.Meets(ro.Aim) || s.Caption && !r.deniesHatch(s, c)) && !share && !c.Has.Meets(ro.Unaffected) && !(c.Has.Meets(ro.Nil) && c.Has.Meets(ro.Hatch)) {
		return marked.Unsaid, -1
	}
	if r.OnlyEmerged(s, c) {
		return marked.Unsaid, -1 // out of the shell is not yet hatched
	}
	if zeroShare(s, c) && (c.Has.Meets(ro.Event) || !c.Has.Meets(ro.Life) && r.SpeaksOfHatching(s)) {
		return evidence.Prevents, -1
	}
	if r.nilHatch(s, c) {
		return evidence.Prevents, -1
	}
	best, basis, spared := marked.Unsaid, -1, false
	for i, g := range s.Tags {
		if g.From < c.From || g.From >= c.To {
			continue
		}
		switch {
		case ro.Unaffected.Has(g.Class), ro.Effect.Has(g.Class) && r.Negated(s, c, g):
			return evidence.Indifferent, i
		case ro.Adverse.Has(g.Class):
			if best == evidence.Prevents || best == evidence.Indifferent || ro.Kill.Has(g.Class) && r.ofYoung(c) || share && ro.Reduce.Has(g.Class) || ro.Reduce.Has(g.Class) && !r.ofHatching(s, c, g) {
				continue
			}
			best, basis = evidence.Prevents, i
			if c.Has.Meets(ro.Lift) {
				best = evidence.Favours
			} else if r.Negated(s, c, g) {
				best = evidence.Indifferent
				if !ro.Reduce.Has(g.Class) && s.Between(g.To, g.To+3, ro.Hatch) {
					best, spared = evidence.Favours, true // "did not prevent hatching"
				}
			}
		case ro.Helpful.Has(g.Class):
			if (best == marked.Unsaid || best == evidence.Favours) && (share || r.aboutEggs(s)) {
				best, basis = evidence.Favours, i
				if r.Negated(s, c, g) {
					best = evidence.Indifferent
				}
			}
		case ro.Event.Has(g.Class):
			if best == evidence.Indifferent && basis >= 0 && ro.Helpful.Has(s.Tags[basis].Class) && r.Negated(s, c, g) && r.deniedBehind(s, s.Tags[basis].To, c.To) {
				return evidence.Prevents, i // "at the two best none was seen"
			}
			if best != marked.Unsaid && best != evidence.Favours {
				continue
			}
			if r.Negated(s, c, g) && !c.Has.Meets(ro.Lift) && !spared {
				return evidence.Prevents, i
			}
			if best == marked.Unsaid {
				best, basis = evidence.Favours, i
			}
		}
	}
	if best == marked.Unsaid && c.Has.Meets(ro.Emergence) && r.SpeaksOfHatching(s) {
		return marked.Unsaid, -1
	}
	switch {
	case best == marked.Unsaid && c.Has.Meets(ro.Nil) && !c.Has.Meets(ro.Life) && r.SpeaksOfHatching(s):
		best = evidence.Prevents
	case best == marked.Unsaid && share && (s.Has.Meets(ro.Event) || !c.Has.Meets(ro.Life) && (r.SpeaksOfHatching(s) || r.Title.Meets(ro.Hatch) || c.Has.Meets(ro.Gave) && r.aboutEggs(s))),
		best == marked.Unsaid && c.Has.Meets(ro.Need) && !c.Has.Meets(ro.Neg) && r.aboutEggs(s): // what eggs need, they hatch after
		best = evidence.Favours
	}
	return best, basis
}

// nilHatch reports whether the clause says that hatching was nil: the word
// right behind it.
func (r *Judged) nilHatch(s *marked.Sentence, c *marked.Clause) bool {
	const behind = 2
	for _, h := range s.Tags {
		if h.From < c.From || h.From >= c.To || !r.Roles.Hatch.Has(h.Class) {
			continue
		}
		for _, n := range s.Tags {
			if r.Roles.Nil.Has(n.Class) && n.From >= h.To && n.From-h.To < behind && n.From < c.To && s.Words[n.From].Before == 0 && !s.OverlapsTag(n, r.Roles.Unaffected) {
				return true
			}
		}
	}
	return false
}

// KillsYoung reports whether a clause is about the death of young that have
// hatched: its conditions say nothing of eggs.
func (r *Judged) KillsYoung(c *marked.Clause) bool {
	return c.Has.Meets(r.Roles.Kill) && r.ofYoung(c) && !c.Has.Meets(r.Roles.Instruct)
}

// ofYoung reports whether a clause is about young that have hatched, and says
// nothing of eggs: what they die of hinders no hatching.
func (r *Judged) ofYoung(c *marked.Clause) bool {
	ro := r.Roles
	return c.Has.Meets(ro.Larva) && !c.Has.Meets(ro.Egg) && !c.Has.Meets(ro.Hatch) && !c.Has.Meets(ro.Emergence)
}

// ofHatching reports whether a word that lessens something stands near a word
// for hatching or eggs.
func (r *Judged) ofHatching(s *marked.Sentence, c *marked.Clause, g marked.Tag) bool {
	const reach, object, shared = 7, 3, 5
	for _, t := range s.Targets { // "oxygen decreased from 7.6 to 7.5 mg/L" is about oxygen
		if t.Q != nil && t.Kind != "fraction" && t.From >= g.To && t.From-g.To < 5 && !s.Between(g.To, g.To+object, r.Roles.Topic) {
			return false
		}
	}
	for _, o := range s.Tags {
		if !r.Roles.Event.Has(o.Class) && !r.Roles.Egg.Has(o.Class) {
			continue
		}
		if o.From >= c.From && o.From < c.To && o.From-g.To < reach && g.From-o.To < reach {
			return true
		}
		if o.From >= c.To && o.From-g.To < shared && g.To == c.To && s.Tagged(c.To, r.Roles.Coord) {
			return true // "delayed and reduced the hatch"
		}
	}
	return false
}

// SpeaksOfHatching reports whether hatching is what s or the sentences right
// before it count.
func (r *Judged) SpeaksOfHatching(s *marked.Sentence) bool {
	const back = 3
	for d := 0; d <= back; d++ {
		if r.Neighbour(s.Index, -d).Meets(r.Roles.Hatch) {
			return true
		}
	}
	return false
}

// aboutEggs reports whether eggs or hatching are spoken of in s, right before
// it or in the title.
func (r *Judged) aboutEggs(s *marked.Sentence) bool {
	topic := r.Roles.Topic
	return s.Has.Meets(topic) || r.Title.Meets(topic) || r.Neighbour(s.Index, -1).Meets(topic)
}

// zeroShare reports whether all shares of the clause are 0.
func zeroShare(s *marked.Sentence, c *marked.Clause) bool {
	zero := false
	for _, t := range s.Targets {
		if t.Kind == "fraction" && t.At >= c.From && t.At < c.To && t.High != nil {
			if *t.High > 0 {
				return false
			}
			zero = true
		}
	}
	return zero
}

// HasShare reports whether a share of eggs stands in the clause.
func HasShare(s *marked.Sentence, c *marked.Clause) bool {
	for _, t := range s.Targets {
		if t.Kind == "fraction" && t.At >= c.From && t.At < c.To {
			return true
		}
	}
	return false
}

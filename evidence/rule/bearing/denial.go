package bearing

import (
	"slices"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/marked"
)

// Negated reports whether a negating word of the clause governs the cue: it
// stands before it with no other event in between, or shortly behind it
// ("hatching was not seen"), but not before a condition ("not at 20 °C").
func (r *Judged) Negated(s *marked.Sentence, c *marked.Clause, e marked.Tag) bool {
	ro := r.Roles
	for _, n := range s.Tags {
		if n.From < c.From || n.From >= c.To {
			continue
		}
		if n.From < e.To && e.From < n.To { // "gave no nauplii"; but "no success" is no denial of itself
			if ro.Neg.Has(n.Class) && ro.Event.Has(e.Class) {
				return true
			}
			continue
		}
		if ro.Without.Has(n.Class) && n.To <= e.From && e.From-n.To <= 1 {
			return true
		}
		if !ro.Neg.Has(n.Class) || s.InsideQuantity(n) || r.barelySo(s, n) || r.local(s, n) || r.turnsBound(s, n) {
			continue
		}
		switch {
		case n.From <= e.From && e.From-n.To <= 10:
			if !s.Between(n.To, e.From, ro.Event) && !(s.StepBack(n.To, ro.Never) == n.From && s.Between(n.To, n.To+4, ro.Treat)) {
				return true
			}
		case n.From >= e.To && n.From-e.To <= 5:
			if !s.Between(e.To, n.From, ro.Event) && s.Words[n.From].Before&lexicon.AfterComma == 0 && !r.governs(s, n) && !r.beginsAnew(s, e.To, n.From) {
				return true
			}
		}
	}
	return false
}

// deniesHatch reports whether the clause says that eggs did not hatch, as a
// caption may ("no hatching above 3 mS/cm").
func (r *Judged) deniesHatch(s *marked.Sentence, c *marked.Clause) bool {
	return slices.ContainsFunc(s.Tags, func(g marked.Tag) bool {
		return r.Roles.Event.Has(g.Class) && g.From >= c.From && g.From < c.To && r.Negated(s, c, g)
	})
}

// deniedBehind reports whether a denial stands at words [from, to) that is not of
// another word of praise: not the "nor" of "neither hastened nor increased".
func (r *Judged) deniedBehind(s *marked.Sentence, from, to int) bool {
	return slices.ContainsFunc(s.Tags, func(n marked.Tag) bool {
		return r.Roles.Neg.Has(n.Class) && n.From >= from && n.From < to && !r.governs(s, n)
	})
}

// beginsAnew reports whether a conjunction between words from and to opens the
// verb that a denial at word to belongs to: "collapsed and did not swell again".
func (r *Judged) beginsAnew(s *marked.Sentence, from, to int) bool {
	const verb = 2
	return slices.ContainsFunc(s.Tags, func(g marked.Tag) bool {
		return r.Roles.Coord.Has(g.Class) && g.From >= from && g.To <= to && to-g.To < verb && !s.InsideQuantity(g)
	})
}

// barelySo reports whether a negating word only lessens the time or level
// right behind it: "they take barely two days".
func (r *Judged) barelySo(s *marked.Sentence, n marked.Tag) bool {
	if s.StepBack(n.To, r.Roles.Barely) != n.From {
		return false
	}
	for _, t := range s.Targets {
		if t.Q != nil && t.From == n.To && (t.Kind != "fraction" || t.High != nil && *t.High > 1) {
			return true
		}
	}
	return false
}

// governs reports whether the negating word n has another word to negate
// right behind it, as in "was not reduced".
func (r *Judged) governs(s *marked.Sentence, n marked.Tag) bool {
	const reach = 3
	for _, g := range s.Tags {
		if g.From >= n.To && g.From-n.To < reach && (r.Roles.Adverse.Has(g.Class) || r.Roles.Helpful.Has(g.Class) || r.Roles.Need.Has(g.Class)) {
			return true
		}
	}
	return false
}

// local reports whether the negating word n speaks of the condition behind it
// alone: a preposition and a quantity follow, and the event came before.
func (r *Judged) local(s *marked.Sentence, n marked.Tag) bool {
	at := n.To
	for at < len(s.Words) && at < n.To+2 && s.Tagged(at, r.Roles.Prep) {
		at++
	}
	if at == n.To {
		return false
	}
	for _, t := range s.Targets {
		if t.Q != nil && t.From <= at+1 && t.From >= n.To {
			return !s.Between(t.To, len(s.Words), r.Roles.Event)
		}
	}
	return false
}

// spurned reports whether a negating word right before the target's own
// preposition takes this one condition out ("at 15 but not at 20 °C").
func (r *Judged) spurned(s *marked.Sentence, t *marked.Target) bool {
	if t.Q == nil {
		return false
	}
	if r.excepted(s, t) {
		return true
	}
	for _, n := range s.Tags {
		if r.Roles.Neg.Has(n.Class) && n.To <= t.From && t.From-n.To <= 2 && !r.turnsBound(s, n) && r.local(s, n) {
			return true
		}
		if (r.Roles.Neg.Has(n.Class) || r.Roles.Nil.Has(n.Class)) && n.From == t.To && n.To == s.Clauses[t.Clause].To && t.Kind != "fraction" && t.Kind != "duration" {
			return true // "and at 20 °C not at all"
		}
	}
	return false
}

// excepted reports whether the target is the one condition taken out of those under
// which eggs hatched: "at all temperatures except 30 °C".
func (r *Judged) excepted(s *marked.Sentence, t *marked.Target) bool {
	const near = 2
	ro := r.Roles
	return slices.ContainsFunc(s.Tags, func(g marked.Tag) bool {
		return ro.Excepting.Has(g.Class) && g.To <= t.From && t.From-g.To < near && t.Kind != "fraction" && s.Between(0, g.From, ro.Event) &&
			!s.Between(0, g.From, ro.Neg) && !s.Between(0, g.From, ro.Nil) && !s.Between(0, g.From, ro.Adverse)
	})
}

// turnsBound reports whether the negating word n has turned the bound of a value
// already: what hatches "not below 8 °C" hatches from 8 °C on.
func (r *Judged) turnsBound(s *marked.Sentence, n marked.Tag) bool {
	ro := r.Roles
	for _, t := range s.Targets {
		if t.Q == nil || t.From < n.To || (t.Low == nil) == (t.High == nil) {
			continue
		}
		side := ro.Above
		if t.High == nil {
			side = ro.Below
		}
		if slices.ContainsFunc(s.Tags, func(g marked.Tag) bool { return g.From == n.To && g.To == t.From && side.Has(g.Class) }) {
			return true
		}
	}
	return false
}

// onlyTurnsBounds reports whether no negating word of the clause denies anything but
// the side of a value.
func (r *Judged) onlyTurnsBounds(s *marked.Sentence, c *marked.Clause) bool {
	return !slices.ContainsFunc(s.Tags, func(n marked.Tag) bool {
		return r.Roles.Neg.Has(n.Class) && n.From >= c.From && n.From < c.To && !r.turnsBound(s, n)
	})
}

// flipNeeds turns a negated word of need ("no drying was needed") into a word
// of no need.
func (r *Judged) flipNeeds(s *marked.Sentence) {
	noneed, ok := r.Classes["noneed"]
	if !ok {
		return
	}
	for k := range s.Clauses {
		c := &s.Clauses[k]
		if c.Has.Meets(r.Roles.Lift) {
			continue
		}
		for i, g := range s.Tags {
			if g.From < c.From || g.From >= c.To || !r.Roles.Need.Has(g.Class) || !r.denied(s, c, g) {
				continue
			}
			s.Tags[i].Class = noneed
			c.Has.Set(noneed)
			s.Has.Set(noneed)
		}
	}
}

// denied reports whether a negating word stands shortly before g.
func (r *Judged) denied(s *marked.Sentence, c *marked.Clause, g marked.Tag) bool {
	const reach = 5
	for _, n := range s.Tags {
		if !r.Roles.Neg.Has(n.Class) || n.From < c.From || n.To > c.To {
			continue
		}
		if n.To <= g.From && g.From-n.To < reach && !s.Between(n.To, g.From, r.Roles.Event) || n.From >= g.To && n.To == c.To && !c.Has.Meets(r.Roles.Aim) {
			return true // "notwendig ist das Gefrieren nicht"
		}
	}
	return false
}

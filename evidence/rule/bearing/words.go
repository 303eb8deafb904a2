package bearing

import (
	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// own decides from the words of the clause alone; basis is the index of the tag
// that decided, -1 for none.
func (r *Judged) own(s *marked.Sentence, c *marked.Clause) (b evidence.Bearing, basis int) {
	if b, told := r.plainly(s, c); told {
		return b, -1
	}
	w := weighing{Judged: r, s: s, c: c, share: HasShare(s, c), basis: -1}
	for i, g := range s.Tags {
		if g.From >= c.From && g.From < c.To && !w.settled {
			w.take(i, g)
		}
	}
	if w.bears == marked.Unsaid {
		return w.withoutWords(), -1
	}
	return w.bears, w.basis
}

// plainly decides where no word needs to be weighed: young were counted, the clause
// asks or only names what was done, nothing but emergence is told, or none hatched.
func (r *Judged) plainly(s *marked.Sentence, c *marked.Clause) (b evidence.Bearing, told bool) {
	ro := r.Roles
	asks := c.Has.Meets(ro.Aim) || s.Caption && !r.deniesHatch(s, c)
	found := HasShare(s, c) || c.Has.Meets(ro.Unaffected) || c.Has.Meets(ro.Nil) && c.Has.Meets(ro.Hatch)
	switch {
	case c.Has.Meets(ro.YoungCount) && !c.Has.Meets(ro.Neg):
		return evidence.Favours, true
	case asks && !found, r.OnlyEmerged(s, c): // out of the shell is not yet hatched
		return marked.Unsaid, true
	case zeroShare(s, c) && (c.Has.Meets(ro.Event) || !c.Has.Meets(ro.Life) && r.SpeaksOfHatching(s)), r.nilHatch(s, c):
		return evidence.Prevents, true
	}
	return marked.Unsaid, false
}

// weighing is what the words of a clause, taken one after the other, have said of
// hatching so far.
type weighing struct {
	*Judged
	s       *marked.Sentence
	c       *marked.Clause
	share   bool // a share of eggs stands in the clause
	bears   evidence.Bearing
	basis   int  // index of the tag behind bears, -1
	spared  bool // hatching was said not to be hindered
	settled bool // no later word changes it
}

// take weighs the next word.
func (w *weighing) take(i int, g marked.Tag) {
	ro := w.Roles
	switch {
	case ro.Unaffected.Has(g.Class), ro.Effect.Has(g.Class) && w.Negated(w.s, w.c, g):
		w.settle(evidence.Indifferent, i)
	case ro.Adverse.Has(g.Class):
		w.adverse(i, g)
	case ro.Helpful.Has(g.Class):
		w.helpful(i, g)
	case ro.Event.Has(g.Class):
		w.event(i, g)
	}
}

func (w *weighing) settle(b evidence.Bearing, i int) { w.bears, w.basis, w.settled = b, i, true }

// adverse weighs a word for what hinders or kills. What lessens something lessens
// the hatch only where it stands near it, and not where a share says how much hatched.
func (w *weighing) adverse(i int, g marked.Tag) {
	ro := w.Roles
	reduces := ro.Reduce.Has(g.Class)
	switch {
	case w.bears == evidence.Prevents || w.bears == evidence.Indifferent,
		ro.Kill.Has(g.Class) && w.ofYoung(w.c),
		reduces && (w.share || !w.ofHatching(w.s, w.c, g)):
		return
	}
	w.basis = i
	switch {
	case w.c.Has.Meets(ro.Lift):
		w.bears = evidence.Favours
	case !w.Negated(w.s, w.c, g):
		w.bears = evidence.Prevents
	case !reduces && w.s.Between(g.To, g.To+3, ro.Hatch):
		w.bears, w.spared = evidence.Favours, true // "did not prevent hatching"
	default:
		w.bears = evidence.Indifferent
	}
}

// helpful weighs a word of praise.
func (w *weighing) helpful(i int, g marked.Tag) {
	if w.bears != marked.Unsaid && w.bears != evidence.Favours || !w.share && !w.aboutEggs(w.s) {
		return
	}
	w.bears, w.basis = evidence.Favours, i
	if w.Negated(w.s, w.c, g) {
		w.bears = evidence.Indifferent
	}
}

// event weighs a word for hatching.
func (w *weighing) event(i int, g marked.Tag) {
	ro := w.Roles
	denied := w.Negated(w.s, w.c, g)
	praised := w.basis >= 0 && ro.Helpful.Has(w.s.Tags[w.basis].Class)
	switch {
	case w.bears == evidence.Indifferent && praised && denied && w.deniedBehind(w.s, w.s.Tags[w.basis].To, w.c.To):
		w.settle(evidence.Prevents, i) // "at the two best none was seen"
	case w.bears != marked.Unsaid && w.bears != evidence.Favours:
	case denied && !w.c.Has.Meets(ro.Lift) && !w.spared:
		w.settle(evidence.Prevents, i)
	case w.bears == marked.Unsaid:
		w.bears, w.basis = evidence.Favours, i
	}
}

// withoutWords decides where no word tells: by shares and denials that can be of
// nothing but hatching, and because eggs hatch after what they need.
func (w *weighing) withoutWords() evidence.Bearing {
	ro, s, c := w.Roles, w.s, w.c
	hatching := w.SpeaksOfHatching(s)
	ofEggs := hatching || w.Title.Meets(ro.Hatch) || c.Has.Meets(ro.Gave) && w.aboutEggs(s)
	switch {
	case c.Has.Meets(ro.Emergence) && hatching:
		return marked.Unsaid
	case c.Has.Meets(ro.Nil) && !c.Has.Meets(ro.Life) && hatching:
		return evidence.Prevents
	case w.share && (s.Has.Meets(ro.Event) || !c.Has.Meets(ro.Life) && ofEggs),
		c.Has.Meets(ro.Need) && !c.Has.Meets(ro.Neg) && w.aboutEggs(s):
		return evidence.Favours
	}
	return marked.Unsaid
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
		if r.Neighbour(s, -d).Meets(r.Roles.Hatch) {
			return true
		}
	}
	return false
}

// aboutEggs reports whether eggs or hatching are spoken of in s, right before
// it or in the title.
func (r *Judged) aboutEggs(s *marked.Sentence) bool {
	topic := r.Roles.Topic
	return s.Has.Meets(topic) || r.Title.Meets(topic) || r.Neighbour(s, -1).Meets(topic)
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

package rule

import "hatchlore/evidence"

// bearing is what a clause says about hatching; unsaid when it says nothing.
type bearing = evidence.Bearing

const unsaid bearing = ""

// judge decides for every clause of s what it says about hatching.
func (r *reading) judge(s *sentence) {
	r.flipNeeds(s)
	for i := range s.clauses {
		c := &s.clauses[i]
		c.bears, c.basis = r.own(s, c)
	}
	r.likewise(s)
	for i := 1; i < len(s.clauses); i++ {
		c := &s.clauses[i]
		if c.resumes && r.elliptic(s, c) {
			c.has.join(s.clauses[i-1].has)
			c.bears = s.clauses[i-1].bears
		} else if c.bears == unsaid && r.elliptic(s, c) {
			r.inherit(c, s.clauses[i-1])
		}
	}
}

// likewise gives a sentence that begins with "neither", "so did" or the like,
// and has no word of its own for what happened, the finding of the sentence
// before it.
func (r *reading) likewise(s *sentence) {
	const opening = 2
	before := r.at(s.index-1, s.region)
	c := &s.clauses[0]
	if before == nil || c.bears != unsaid || !r.elliptic(s, c) {
		return
	}
	for _, g := range s.tags {
		if r.set.roles.likewise.has(g.class) && g.from < opening {
			if last := before.clauses[len(before.clauses)-1]; last.bears != evidence.Favours || !c.has.meets(r.set.roles.neg) {
				c.bears = last.bears
			}
			return
		}
	}
}

// inherit gives an elliptic clause ("but not at 20 °C", "at 25 °C a single
// one") the event of the clause before it.
func (r *reading) inherit(c *clause, before clause) {
	if before.bears == unsaid {
		return
	}
	if c.has.meets(r.set.roles.neg) {
		c.bears = evidence.Prevents
		if before.bears == evidence.Prevents && !before.has.meets(r.set.roles.adverse) {
			c.bears = evidence.Favours
		}
	}
}

// elliptic reports whether c has no word of its own for what happened.
func (r *reading) elliptic(s *sentence, c *clause) bool {
	ro := r.set.roles
	return !c.has.meets(ro.event) && !c.has.meets(ro.adverse) && !c.has.meets(ro.life)
}

// own decides from the words of the clause alone.
func (r *reading) own(s *sentence, c *clause) (bearing, int) {
	ro := r.set.roles
	share := hasShare(s, c)
	if (c.has.meets(ro.aim) || s.caption) && !share && !c.has.meets(ro.unaffected) {
		return unsaid, -1
	}
	if zeroShare(s, c) && c.has.meets(ro.event) {
		return evidence.Prevents, -1
	}
	best, basis := unsaid, -1
	for i, g := range s.tags {
		if g.from < c.from || g.from >= c.to {
			continue
		}
		switch {
		case ro.unaffected.has(g.class), ro.effect.has(g.class) && r.negated(s, c, g):
			return evidence.Indifferent, i
		case ro.adverse.has(g.class):
			if best == evidence.Prevents || best == evidence.Indifferent || share && ro.reduce.has(g.class) || ro.reduce.has(g.class) && !r.ofHatching(s, c, g) {
				continue
			}
			best, basis = evidence.Prevents, i
			if c.has.meets(ro.lift) {
				best = evidence.Favours
			} else if r.negated(s, c, g) {
				best = evidence.Indifferent
			}
		case ro.helpful.has(g.class):
			if (best == unsaid || best == evidence.Favours) && (share || r.aboutEggs(s)) {
				best, basis = evidence.Favours, i
				if r.negated(s, c, g) {
					best = evidence.Indifferent
				}
			}
		case ro.event.has(g.class):
			if best != unsaid && best != evidence.Favours {
				continue
			}
			if r.negated(s, c, g) && !c.has.meets(ro.lift) {
				return evidence.Prevents, i
			}
			if best == unsaid {
				best, basis = evidence.Favours, i
			}
		}
	}
	switch {
	case best == unsaid && c.has.meets(ro.null) && !c.has.meets(ro.life) && r.speaksOfHatching(s):
		best = evidence.Prevents
	case best == unsaid && share && (s.has.meets(ro.event) || !c.has.meets(ro.life) && r.speaksOfHatching(s)),
		best == unsaid && c.has.meets(ro.need) && !c.has.meets(ro.neg) && r.aboutEggs(s): // what eggs need, they hatch after
		best = evidence.Favours
	}
	return best, basis
}

// speaksOfHatching reports whether hatching is what s or the sentences right
// before it count.
func (r *reading) speaksOfHatching(s *sentence) bool {
	const back = 3
	for d := 0; d <= back; d++ {
		if r.neighbour(s.index, -d).meets(r.set.roles.hatch) {
			return true
		}
	}
	return false
}

// aboutEggs reports whether eggs or hatching are spoken of in s, right before
// it or in the title.
func (r *reading) aboutEggs(s *sentence) bool {
	topic := r.set.roles.topic
	return s.has.meets(topic) || r.title.meets(topic) || r.neighbour(s.index, -1).meets(topic)
}

// ofHatching reports whether a word that lessens something stands near a word
// for hatching or eggs.
func (r *reading) ofHatching(s *sentence, c *clause, g tag) bool {
	const reach, object = 7, 3
	for _, t := range s.targets { // "oxygen decreased from 7.6 to 7.5 mg/L" is about oxygen
		if t.q != nil && t.kind != "fraction" && t.from >= g.to && t.from-g.to < 5 && !r.between(s, g.to, g.to+object, r.set.roles.topic) {
			return false
		}
	}
	for _, o := range s.tags {
		if o.from >= c.from && o.from < c.to && (r.set.roles.event.has(o.class) || r.set.roles.egg.has(o.class)) && o.from-g.to < reach && g.from-o.to < reach {
			return true
		}
	}
	return false
}

// negated reports whether a negating word of the clause governs the cue: it
// stands before it with no other event in between, or shortly behind it
// ("hatching was not seen"), but not before a condition ("not at 20 °C").
func (r *reading) negated(s *sentence, c *clause, e tag) bool {
	ro := r.set.roles
	for _, n := range s.tags {
		if n.from < c.from || n.from >= c.to {
			continue
		}
		if n.from < e.to && e.from < n.to { // "gave no nauplii"; but "no success" is no denial of itself
			if ro.neg.has(n.class) && ro.event.has(e.class) {
				return true
			}
			continue
		}
		if ro.without.has(n.class) && n.to <= e.from && e.from-n.to <= 1 {
			return true
		}
		if !ro.neg.has(n.class) || r.local(s, n) {
			continue
		}
		switch {
		case n.from <= e.from && e.from-n.to <= 10:
			if !r.between(s, n.to, e.from, ro.event) {
				return true
			}
		case n.from >= e.to && n.from-e.to <= 5:
			if !r.between(s, e.to, n.from, ro.event) && s.words[n.from].before&afterComma == 0 && !r.governs(s, n) {
				return true
			}
		}
	}
	return false
}

// governs reports whether the negating word n has another word to negate
// right behind it, as in "was not reduced".
func (r *reading) governs(s *sentence, n tag) bool {
	const reach = 3
	for _, g := range s.tags {
		if g.from >= n.to && g.from-n.to < reach && (r.set.roles.adverse.has(g.class) || r.set.roles.helpful.has(g.class) || r.set.roles.need.has(g.class)) {
			return true
		}
	}
	return false
}

// flipNeeds turns a negated word of need ("no drying was needed") into a word
// of no need.
func (r *reading) flipNeeds(s *sentence) {
	noneed, ok := r.set.classes["noneed"]
	if !ok {
		return
	}
	for k := range s.clauses {
		c := &s.clauses[k]
		if c.has.meets(r.set.roles.lift) {
			continue
		}
		for i, g := range s.tags {
			if g.from < c.from || g.from >= c.to || !r.set.roles.need.has(g.class) || !r.denied(s, c, g) {
				continue
			}
			s.tags[i].class = noneed
			c.has.set(noneed)
			s.has.set(noneed)
		}
	}
}

// denied reports whether a negating word stands shortly before g.
func (r *reading) denied(s *sentence, c *clause, g tag) bool {
	const reach = 4
	for _, n := range s.tags {
		if r.set.roles.neg.has(n.class) && n.from >= c.from && n.to <= g.from && g.from-n.to < reach && !r.between(s, n.to, g.from, r.set.roles.event) {
			return true
		}
	}
	return false
}

// between reports whether a cue of the classes begins at words [from, to).
func (r *reading) between(s *sentence, from, to int, b bits) bool {
	for _, g := range s.tags {
		if g.from >= from && g.from < to && b.has(g.class) {
			return true
		}
	}
	return false
}

// local reports whether the negating word n speaks of the condition behind it
// alone: a preposition and a quantity follow, and the event came before.
func (r *reading) local(s *sentence, n tag) bool {
	at := n.to
	for at < len(s.words) && at < n.to+2 && r.tagged(s, at, r.set.roles.prep) {
		at++
	}
	if at == n.to {
		return false
	}
	for _, t := range s.targets {
		if t.q != nil && t.from <= at+1 && t.from >= n.to {
			return !r.between(s, t.to, len(s.words), r.set.roles.event)
		}
	}
	return false
}

// spurned reports whether a negating word right before the target's own
// preposition takes this one condition out ("at 15 but not at 20 °C").
func (r *reading) spurned(s *sentence, t *target) bool {
	if t.q == nil {
		return false
	}
	for _, n := range s.tags {
		if r.set.roles.neg.has(n.class) && n.to <= t.from && t.from-n.to <= 2 && r.local(s, n) {
			return true
		}
	}
	return false
}

// zeroShare reports whether all shares of the clause are 0.
func zeroShare(s *sentence, c *clause) bool {
	zero := false
	for _, t := range s.targets {
		if t.kind == "fraction" && t.at >= c.from && t.at < c.to && t.high != nil {
			if *t.high > 0 {
				return false
			}
			zero = true
		}
	}
	return zero
}

func hasShare(s *sentence, c *clause) bool {
	for _, t := range s.targets {
		if t.kind == "fraction" && t.at >= c.from && t.at < c.to {
			return true
		}
	}
	return false
}

// outcome is what the text says happened under the target: in its own clause,
// else in the next clause of the sentence that goes on from it, else in the
// one before.
func (r *reading) outcome(s *sentence, t *target) (b bearing, borrowed bool) {
	c := s.clauses[t.clause]
	if r.spurned(s, t) {
		return evidence.Prevents, false
	}
	if c.bears != unsaid {
		return c.bears, false
	}
	if c.has.meets(r.set.roles.aim) {
		return unsaid, false
	}
	if k := t.clause + 1; k < len(s.clauses) && (!s.clauses[k].strong || s.clauses[k].colon && r.label(c) || c.has.meets(r.set.roles.emergence)) && s.lends(k, t) {
		return s.clauses[k].bears, true
	}
	if k := t.clause - 1; k >= 0 && (!c.strong || c.colon) && s.lends(k, t) {
		return s.clauses[k].bears, true
	}
	return unsaid, false
}

// lends reports whether what clause k says happened may hold for the target
// of another clause: not where it came of a condition of its own.
func (s *sentence) lends(k int, t *target) bool {
	b := s.clauses[k].bears
	if b != evidence.Prevents {
		return b != unsaid
	}
	for _, o := range s.targets {
		if o.q != nil && o.clause == k && o.kind != "fraction" && o.kind != "duration" && o.class != t.class {
			return false
		}
	}
	return true
}

// label reports whether c is no more than a condition that a colon opens
// ("25 °C: 40 % hatched").
func (r *reading) label(c clause) bool {
	const short = 6
	return c.to-c.from <= short && !c.has.meets(r.set.roles.event)
}

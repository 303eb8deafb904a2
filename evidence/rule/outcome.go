package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/lexicon"
)

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
		if c.resumes && r.elliptic(s, c) && c.bears == unsaid {
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
		if r.roles.Likewise.has(g.class) && g.from < opening {
			if last := before.clauses[len(before.clauses)-1]; last.bears != evidence.Favours || !c.has.meets(r.roles.Neg) {
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
	if c.has.meets(r.roles.ProVerb) && !c.has.meets(r.roles.Neg) && before.bears != evidence.Favours {
		c.bears = evidence.Favours // "neither light nor oxygen made them hatch; a fall to 8 °C did"
		return
	}
	if c.has.meets(r.roles.Handful) && !c.has.meets(r.roles.Neg) && before.bears == evidence.Prevents {
		c.bears = evidence.Favours // "after 10 days not an egg hatched, and after 20 days only two"
		return
	}
	if c.has.meets(r.roles.Neg) {
		c.bears = evidence.Prevents
		if before.bears == evidence.Prevents && !before.has.meets(r.roles.Adverse) {
			c.bears = evidence.Favours
		}
	}
}

// elliptic reports whether c has no word of its own for what happened.
func (r *reading) elliptic(s *sentence, c *clause) bool {
	ro := r.roles
	return !c.has.meets(ro.Event) && !c.has.meets(ro.Adverse) && !c.has.meets(ro.Life)
}

// own decides from the words of the clause alone.
func (r *reading) own(s *sentence, c *clause) (evidence.Bearing, int) {
	ro := r.roles
	share := hasShare(s, c)
	if c.has.meets(ro.YoungCount) && !c.has.meets(ro.Neg) {
		return evidence.Favours, -1
	}
	if (c.has.meets(ro.Aim) || s.caption && !r.deniesHatch(s, c)) && !share && !c.has.meets(ro.Unaffected) && !(c.has.meets(ro.Nil) && c.has.meets(ro.Hatch)) {
		return unsaid, -1
	}
	if r.onlyEmerged(s, c) {
		return unsaid, -1 // out of the shell is not yet hatched
	}
	if zeroShare(s, c) && (c.has.meets(ro.Event) || !c.has.meets(ro.Life) && r.speaksOfHatching(s)) {
		return evidence.Prevents, -1
	}
	if r.nilHatch(s, c) {
		return evidence.Prevents, -1
	}
	best, basis, spared := unsaid, -1, false
	for i, g := range s.tags {
		if g.from < c.from || g.from >= c.to {
			continue
		}
		switch {
		case ro.Unaffected.has(g.class), ro.Effect.has(g.class) && r.negated(s, c, g):
			return evidence.Indifferent, i
		case ro.Adverse.has(g.class):
			if best == evidence.Prevents || best == evidence.Indifferent || share && ro.Reduce.has(g.class) || ro.Reduce.has(g.class) && !r.ofHatching(s, c, g) {
				continue
			}
			best, basis = evidence.Prevents, i
			if c.has.meets(ro.Lift) {
				best = evidence.Favours
			} else if r.negated(s, c, g) {
				best = evidence.Indifferent
				if !ro.Reduce.has(g.class) && r.between(s, g.to, g.to+3, ro.Hatch) {
					best, spared = evidence.Favours, true // "did not prevent hatching"
				}
			}
		case ro.Helpful.has(g.class):
			if (best == unsaid || best == evidence.Favours) && (share || r.aboutEggs(s)) {
				best, basis = evidence.Favours, i
				if r.negated(s, c, g) {
					best = evidence.Indifferent
				}
			}
		case ro.Event.has(g.class):
			if best == evidence.Indifferent && basis >= 0 && ro.Helpful.has(s.tags[basis].class) && r.negated(s, c, g) && r.deniedBehind(s, s.tags[basis].to, c.to) {
				return evidence.Prevents, i // "at the two best none was seen"
			}
			if best != unsaid && best != evidence.Favours {
				continue
			}
			if r.negated(s, c, g) && !c.has.meets(ro.Lift) && !spared {
				return evidence.Prevents, i
			}
			if best == unsaid {
				best, basis = evidence.Favours, i
			}
		}
	}
	if best == unsaid && c.has.meets(ro.Emergence) && r.speaksOfHatching(s) {
		return unsaid, -1
	}
	switch {
	case best == unsaid && c.has.meets(ro.Nil) && !c.has.meets(ro.Life) && r.speaksOfHatching(s):
		best = evidence.Prevents
	case best == unsaid && share && (s.has.meets(ro.Event) || !c.has.meets(ro.Life) && (r.speaksOfHatching(s) || r.title.meets(ro.Hatch))),
		best == unsaid && c.has.meets(ro.Need) && !c.has.meets(ro.Neg) && r.aboutEggs(s): // what eggs need, they hatch after
		best = evidence.Favours
	}
	return best, basis
}

// deniesHatch reports whether the clause says that eggs did not hatch, as a
// caption may ("no hatching above 3 mS/cm").
func (r *reading) deniesHatch(s *sentence, c *clause) bool {
	return slices.ContainsFunc(s.tags, func(g tag) bool {
		return r.roles.Event.has(g.class) && g.from >= c.from && g.from < c.to && r.negated(s, c, g)
	})
}

// nilHatch reports whether the clause says that hatching was nil: the word
// right behind it.
func (r *reading) nilHatch(s *sentence, c *clause) bool {
	const behind = 2
	for _, h := range s.tags {
		if h.from < c.from || h.from >= c.to || !r.roles.Hatch.has(h.class) {
			continue
		}
		for _, n := range s.tags {
			if r.roles.Nil.has(n.class) && n.from >= h.to && n.from-h.to < behind && n.from < c.to && s.words[n.from].Before == 0 {
				return true
			}
		}
	}
	return false
}

// speaksOfHatching reports whether hatching is what s or the sentences right
// before it count.
func (r *reading) speaksOfHatching(s *sentence) bool {
	const back = 3
	for d := 0; d <= back; d++ {
		if r.neighbour(s.index, -d).meets(r.roles.Hatch) {
			return true
		}
	}
	return false
}

// aboutEggs reports whether eggs or hatching are spoken of in s, right before
// it or in the title.
func (r *reading) aboutEggs(s *sentence) bool {
	topic := r.roles.Topic
	return s.has.meets(topic) || r.title.meets(topic) || r.neighbour(s.index, -1).meets(topic)
}

// ofHatching reports whether a word that lessens something stands near a word
// for hatching or eggs.
func (r *reading) ofHatching(s *sentence, c *clause, g tag) bool {
	const reach, object, shared = 7, 3, 5
	for _, t := range s.targets { // "oxygen decreased from 7.6 to 7.5 mg/L" is about oxygen
		if t.q != nil && t.kind != "fraction" && t.from >= g.to && t.from-g.to < 5 && !r.between(s, g.to, g.to+object, r.roles.Topic) {
			return false
		}
	}
	for _, o := range s.tags {
		if !r.roles.Event.has(o.class) && !r.roles.Egg.has(o.class) {
			continue
		}
		if o.from >= c.from && o.from < c.to && o.from-g.to < reach && g.from-o.to < reach {
			return true
		}
		if o.from >= c.to && o.from-g.to < shared && g.to == c.to && r.tagged(s, c.to, r.roles.Coord) {
			return true // "delayed and reduced the hatch"
		}
	}
	return false
}

// negated reports whether a negating word of the clause governs the cue: it
// stands before it with no other event in between, or shortly behind it
// ("hatching was not seen"), but not before a condition ("not at 20 °C").
func (r *reading) negated(s *sentence, c *clause, e tag) bool {
	ro := r.roles
	for _, n := range s.tags {
		if n.from < c.from || n.from >= c.to {
			continue
		}
		if n.from < e.to && e.from < n.to { // "gave no nauplii"; but "no success" is no denial of itself
			if ro.Neg.has(n.class) && ro.Event.has(e.class) {
				return true
			}
			continue
		}
		if ro.Without.has(n.class) && n.to <= e.from && e.from-n.to <= 1 {
			return true
		}
		if !ro.Neg.has(n.class) || s.insideQuantity(n) || r.barelySo(s, n) || r.local(s, n) {
			continue
		}
		switch {
		case n.from <= e.from && e.from-n.to <= 10:
			if !r.between(s, n.to, e.from, ro.Event) && !(r.stepBack(s, n.to, ro.Never) == n.from && r.between(s, n.to, n.to+4, ro.Treat)) {
				return true
			}
		case n.from >= e.to && n.from-e.to <= 5:
			if !r.between(s, e.to, n.from, ro.Event) && s.words[n.from].Before&lexicon.AfterComma == 0 && !r.governs(s, n) && !r.beginsAnew(s, e.to, n.from) {
				return true
			}
		}
	}
	return false
}

// deniedBehind reports whether a denial stands at words [from, to) that is not of
// another word of praise: not the "nor" of "neither hastened nor increased".
func (r *reading) deniedBehind(s *sentence, from, to int) bool {
	return slices.ContainsFunc(s.tags, func(n tag) bool {
		return r.roles.Neg.has(n.class) && n.from >= from && n.from < to && !r.governs(s, n)
	})
}

// beginsAnew reports whether a conjunction between words from and to opens the
// verb that a denial at word to belongs to: "collapsed and did not swell again".
func (r *reading) beginsAnew(s *sentence, from, to int) bool {
	const verb = 2
	return slices.ContainsFunc(s.tags, func(g tag) bool {
		return r.roles.Coord.has(g.class) && g.from >= from && g.to <= to && to-g.to < verb && !s.insideQuantity(g)
	})
}

// barelySo reports whether a negating word only lessens the time or level
// right behind it: "they take barely two days".
func (r *reading) barelySo(s *sentence, n tag) bool {
	if r.stepBack(s, n.to, r.roles.Barely) != n.from {
		return false
	}
	for _, t := range s.targets {
		if t.q != nil && t.from == n.to && (t.kind != "fraction" || t.high != nil && *t.high > 1) {
			return true
		}
	}
	return false
}

// insideQuantity reports whether a tag stands within a list of values, as "nor"
// does in "at 6 nor at 32 °C": it joins and denies nothing.
func (s *sentence) insideQuantity(g tag) bool {
	for _, t := range s.targets {
		if t.q != nil && t.from < g.from && g.to < t.to {
			return true
		}
	}
	return false
}

// governs reports whether the negating word n has another word to negate
// right behind it, as in "was not reduced".
func (r *reading) governs(s *sentence, n tag) bool {
	const reach = 3
	for _, g := range s.tags {
		if g.from >= n.to && g.from-n.to < reach && (r.roles.Adverse.has(g.class) || r.roles.Helpful.has(g.class) || r.roles.Need.has(g.class)) {
			return true
		}
	}
	return false
}

// flipNeeds turns a negated word of need ("no drying was needed") into a word
// of no need.
func (r *reading) flipNeeds(s *sentence) {
	noneed, ok := r.classes["noneed"]
	if !ok {
		return
	}
	for k := range s.clauses {
		c := &s.clauses[k]
		if c.has.meets(r.roles.Lift) {
			continue
		}
		for i, g := range s.tags {
			if g.from < c.from || g.from >= c.to || !r.roles.Need.has(g.class) || !r.denied(s, c, g) {
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
		if !r.roles.Neg.has(n.class) || n.from < c.from || n.to > c.to {
			continue
		}
		if n.to <= g.from && g.from-n.to < reach && !r.between(s, n.to, g.from, r.roles.Event) || n.from >= g.to && n.to == c.to && !c.has.meets(r.roles.Aim) {
			return true // "notwendig ist das Gefrieren nicht"
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
	for at < len(s.words) && at < n.to+2 && r.tagged(s, at, r.roles.Prep) {
		at++
	}
	if at == n.to {
		return false
	}
	for _, t := range s.targets {
		if t.q != nil && t.from <= at+1 && t.from >= n.to {
			return !r.between(s, t.to, len(s.words), r.roles.Event)
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
		if r.roles.Neg.has(n.class) && n.to <= t.from && t.from-n.to <= 2 && r.local(s, n) {
			return true
		}
		if (r.roles.Neg.has(n.class) || r.roles.Nil.has(n.class)) && n.from == t.to && n.to == s.clauses[t.clause].to && t.kind != "fraction" && t.kind != "duration" {
			return true // "and at 20 °C not at all"
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
func (r *reading) outcome(s *sentence, t *target) (b evidence.Bearing, borrowed bool) {
	c := s.clauses[t.clause]
	if r.spurned(s, t) {
		return evidence.Prevents, false
	}
	if r.beforeTurn(s, t) {
		return evidence.Prevents, false
	}
	if r.leftBehind(s, t) {
		return evidence.Reported, false
	}
	if k := t.clause + 1; k < len(s.clauses) && s.clauses[k].colon && s.clauses[k].bears == evidence.Prevents && r.elliptic(s, &c) && r.lends(s, k, t) {
		return evidence.Prevents, true // "fill it with water of 15 °C: no egg will hatch"
	}
	if c.bears != unsaid {
		b := r.saidOf(s, t.clause, t)
		if (b == evidence.Indifferent || c.has.meets(r.roles.Idle)) && r.circumstance(s, c, t) {
			b = evidence.Reported
		}
		return b, false
	}
	if c.has.meets(r.roles.Aim) {
		return unsaid, false
	}
	if k := t.clause + 2; k < len(s.clauses) && r.inserts(s, k-1) && !s.clauses[k].strong && r.lends(s, k, t) {
		return r.saidOf(s, k, t), true
	}
	if k := t.clause + 1; k < len(s.clauses) && (!s.clauses[k].strong || r.tells(s, k, c) || c.has.meets(r.roles.Emergence) && !sharesLevel(s, k, t)) && r.lends(s, k, t) {
		return r.saidOf(s, k, t), true
	}
	if k := t.clause + 1; k < len(s.clauses) && s.clauses[k].bears == evidence.Favours && r.concedes(s, k) && !r.conditioned(s, k) {
		return r.saidOf(s, k, t), true // "our dishes were aerated and yet hatched well"
	}
	if k := t.clause - 1; k >= 0 && (!c.strong || c.colon) && !(s.clauses[k].bears == evidence.Prevents && r.instructs(s, c)) && r.lends(s, k, t) {
		return r.saidOf(s, k, t), true
	}
	return unsaid, false
}

// beforeTurn reports whether the target is the condition that did not do, where
// another of its kind is named behind "until" or "unless": "at 10 °C they did not
// hatch until warmed to 17 °C".
func (r *reading) beforeTurn(s *sentence, t *target) bool {
	if t.q == nil || t.kind == "fraction" || t.kind == "duration" || s.clauses[t.clause].bears != evidence.Favours {
		return false
	}
	c := s.clauses[t.clause]
	for _, g := range s.tags {
		if !r.roles.Lift.has(g.class) || g.from < t.to || g.to > c.to || !r.between(s, g.from, c.to, r.roles.Event) {
			continue
		}
		for _, o := range s.targets {
			if o.q != nil && o.q != t.q && o.class == t.class && o.from >= g.to && o.from < c.to {
				return true
			}
		}
	}
	return false
}

// inserts reports whether clause k is a relative one between commas, behind which
// the clause before it goes on: "10 °C, which others found best, prevented hatching".
func (r *reading) inserts(s *sentence, k int) bool {
	c := s.clauses[k]
	return s.words[c.from].Before&lexicon.AfterComma != 0 && r.tagged(s, c.from, r.roles.Relative) && c.to < len(s.words) && s.words[c.to].Before&(lexicon.AfterComma|lexicon.AfterClose) != 0
}

// leftBehind reports whether the target is the condition that eggs came from: "when
// brine of 120 g/L was diluted to 30 g/L they hatched".
func (r *reading) leftBehind(s *sentence, t *target) bool {
	if t.q == nil || t.siblings > 1 || t.kind == "fraction" || t.kind == "duration" || s.clauses[t.clause].bears != evidence.Favours {
		return false
	}
	return slices.ContainsFunc(s.targets, func(o *target) bool {
		if o.q == nil || o.q == t.q || o.class != t.class || o.clause != t.clause {
			return false
		}
		to := r.stepBack(s, o.from, r.roles.BroughtTo)
		return to != o.from && to >= t.to
	})
}

// saidOf is what clause k says happened under the target. Where it says that
// lots treated in two ways hatched alike ("undried eggs hatched as well as
// dried ones at 12 °C"), a value is a condition under which both did.
func (r *reading) saidOf(s *sentence, k int, t *target) evidence.Bearing {
	c := &s.clauses[k]
	if c.bears == evidence.Indifferent && t.q != nil && c.basis >= 0 && (c.has.meets(r.roles.Hatch) || k != t.clause && hasShare(s, &s.clauses[t.clause])) && s.overlapsTag(s.tags[c.basis], r.roles.Alike) {
		return evidence.Favours
	}
	return c.bears
}

// circumstance reports whether the target says only under what something else
// made no difference: "nitrogen, given at 4 °C, did nothing".
func (r *reading) circumstance(s *sentence, c clause, t *target) bool {
	if t.high != nil && *t.high <= 0 && t.kind == "temperature" {
		return false // frost is the agent itself
	}
	switch t.kind {
	case "temperature", "salinity", "conductivity", "ph":
		return r.stepBack(s, t.from, r.roles.Prep) != t.from && !c.has.meets(r.roles.Chill) && r.between(s, c.from, t.from, r.roles.Agent)
	}
	return false
}

// lends reports whether what clause k says happened may hold for the target
// of another clause: not where it came of a condition of its own.
func (r *reading) lends(s *sentence, k int, t *target) bool {
	b := s.clauses[k].bears
	if b != evidence.Prevents {
		return b != unsaid
	}
	if s.clauses[k].has.meets(r.roles.Absence) {
		return false // "keep the lamp on, for without light none hatch"
	}
	for _, o := range s.targets {
		if o.q != nil && o.clause == k && o.kind != "fraction" && o.kind != "duration" && o.class != t.class {
			return false
		}
	}
	return true
}

// concedes reports whether clause k begins with "and yet", "nevertheless" or the
// like: it happened under the condition all the same.
func (r *reading) concedes(s *sentence, k int) bool {
	c := s.clauses[k]
	return slices.ContainsFunc(s.tags, func(g tag) bool {
		return r.roles.Nevertheless.has(g.class) && g.from >= c.from-1 && g.from <= c.from+1
	})
}

// sharesLevel reports whether clause k has a condition of the target's kind of
// its own: "70 % emerged at 24 °C, whereas 64 % hatched at 12 °C".
func sharesLevel(s *sentence, k int, t *target) bool {
	return slices.ContainsFunc(s.targets, func(o *target) bool { return o.q != nil && o.clause == k && o.class == t.class })
}

// tells reports whether clause k, behind a colon or dash, says what happened
// under the condition that c is: "16 °C – no hatch".
func (r *reading) tells(s *sentence, k int, c clause) bool {
	next := s.clauses[k]
	return (next.colon || next.dash) && r.label(c)
}

// label reports whether c is no more than a condition that a colon opens
// ("25 °C: 40 % hatched").
func (r *reading) label(c clause) bool {
	const short = 6
	return c.to-c.from <= short && !c.has.meets(r.roles.Event)
}

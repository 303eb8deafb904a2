package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/lexicon"
)

// clause is a stretch of a sentence with a verb of its own: words [from, to).
type clause struct {
	from, to int
	strong   bool // parted from the one before by a semicolon, a colon or a contrast
	colon    bool // parted from it by a colon
	dash     bool // parted from it by a dash
	resumes  bool // "those of ...": says of others what the clause before said
	has      bits
	bears    evidence.Bearing // what it says about hatching
	basis    int              // index of the tag behind bears, -1
}

// unsaid is the bearing of a clause that says nothing about hatching.
const unsaid evidence.Bearing = ""

// piece is a stretch between commas and conjunctions.
type piece struct {
	from, to int
	strong   bool
	resumes  bool
	headed   bool
}

// cut parts s into clauses: at semicolons and words of contrast always, at
// commas and "and" where both sides have a head (a class of the group act, or
// a share of eggs). A piece without a head goes with the piece before it; it
// goes with the next one when it opens a statement of its own, as the second
// piece of "at 5 °C 20 % hatched, at 10 °C, 40 % did".
func (r *reading) cut(s *sentence) []clause {
	ps := r.pieces(s)
	var out []clause
	for i := 0; i < len(ps); i++ {
		cur := ps[i]
		for i+1 < len(ps) && !ps[i+1].strong && !r.opens(s, cur, ps[i+1], ps[i+2:]) {
			i++
			cur.to, cur.headed = ps[i].to, cur.headed || ps[i].headed
		}
		c := clause{from: cur.from, to: cur.to, strong: cur.strong, resumes: cur.resumes, basis: -1,
			colon: s.words[cur.from].Before&lexicon.AfterColon != 0, dash: s.words[cur.from].Before&lexicon.AfterDash != 0}
		for _, g := range s.tags {
			if g.from >= c.from && g.from < c.to {
				c.has.set(g.class)
			}
		}
		out = append(out, c)
	}
	return out
}

// opens reports whether next begins a new clause behind cur.
func (r *reading) opens(s *sentence, cur, next piece, rest []piece) bool {
	if len(rest) > 0 && rest[0].headed && !rest[0].strong && s.words[next.from].Before&lexicon.AfterComma != 0 && r.tagged(s, next.from, r.roles.Relative) && next.headed {
		return true // "10 °C, which others found best, prevented hatching"
	}
	if !cur.headed {
		return false
	}
	if next.headed || next.resumes || r.between(s, next.from, next.to, r.roles.Handful) && r.sharesKind(s, cur, next) || r.denies(s, next) && r.sharesCondition(s, next, cur) {
		return true
	}
	if len(rest) == 0 || !rest[0].headed || rest[0].strong {
		return false
	}
	if r.tagged(s, next.from, r.roles.Coord) && s.words[next.from].Before&lexicon.AfterComma != 0 && !r.tagged(s, rest[0].from, r.roles.Coord) &&
		r.holdsLevels(s, next) && !r.sharesKind(s, cur, next) {
		return true // ", and pH, tried at 6 and 8, had no effect"
	}
	at := next.from
	for at < next.to && r.tagged(s, at, r.roles.Coord) {
		at++
	}
	whole := r.sharesCondition(s, next, rest[0]) // "at 10 °C in 5 days, at 20 °C none": what follows has its own
	return at < next.to && r.tagged(s, at, r.roles.Prep) && r.sharesKind(s, cur, next) && !whole
}

// denies reports whether the piece opens with a denial of its own: "and was not
// seen at 15 °C".
func (r *reading) denies(s *sentence, p piece) bool {
	const opening = 3
	return r.tagged(s, p.from, r.roles.Coord) && slices.ContainsFunc(s.tags, func(g tag) bool {
		return r.roles.Neg.has(g.class) && g.from > p.from && g.from <= p.from+opening && g.to < p.to && !s.insideQuantity(g)
	})
}

// holdsLevels reports whether the piece lists levels of a condition.
func (r *reading) holdsLevels(s *sentence, p piece) bool {
	for _, t := range s.targets {
		if t.q != nil && t.siblings > 1 && t.kind != "fraction" && t.kind != "duration" && t.at >= p.from && t.at < p.to {
			return true
		}
	}
	return false
}

// sharesCondition reports whether both pieces hold a condition of one kind.
func (r *reading) sharesCondition(s *sentence, a, b piece) bool {
	for _, t := range s.targets {
		if t.q == nil || t.kind == "fraction" || t.kind == "duration" || t.from < a.from || t.from >= a.to {
			continue
		}
		for _, o := range s.targets {
			if o.q != nil && o.class == t.class && o.from >= b.from && o.from < b.to {
				return true
			}
		}
	}
	return false
}

// sharesKind reports whether both pieces hold a quantity of one kind.
func (r *reading) sharesKind(s *sentence, a, b piece) bool {
	var in [2]bits
	for _, t := range s.targets {
		if t.q == nil {
			continue
		}
		if t.from >= a.from && t.from < a.to {
			in[0].set(t.class)
		}
		if t.from >= b.from && t.from < b.to {
			in[1].set(t.class)
		}
	}
	return in[0].meets(in[1])
}

// tagged reports whether a cue of the classes begins at word i.
func (r *reading) tagged(s *sentence, i int, b bits) bool {
	for _, g := range s.tags {
		if g.from == i && b.has(g.class) {
			return true
		}
	}
	return false
}

// pieces cuts s at every place where a clause could begin: not inside
// brackets, quantities or lists of names.
func (r *reading) pieces(s *sentence) []piece {
	contrast, coord, heads := r.starts(s)
	whole := make([]bool, len(s.words)+1) // no cut before this word
	for _, t := range s.targets {
		for i := t.from + 1; i < t.to; i++ {
			whole[i] = true
		}
	}
	for _, g := range s.names {
		for i := g.from + 1; i < g.to; i++ {
			whole[i] = true
		}
	}
	for _, g := range s.tags {
		if r.roles.Contrast.has(g.class) && s.inserted(g) && !r.tagged(s, g.from, r.roles.But) {
			whole[g.from], whole[g.to] = true, true
		}
	}
	var out []piece
	cur, depth := piece{}, 0
	for i, w := range s.words {
		if w.Before&lexicon.AfterClose != 0 && depth > 0 {
			depth--
		}
		soft := w.Before&lexicon.AfterComma != 0 || coord[i] && !r.lists(s, i)
		strong := w.Before&lexicon.AfterStrong != 0 || contrast[i]
		if i > 0 && depth == 0 && !whole[i] && (soft || strong) {
			cur.to = i
			out = append(out, cur)
			cur = piece{from: i, strong: strong, resumes: r.tagged(s, i, r.roles.Resume) || coord[i] && r.tagged(s, i+1, r.roles.Resume)}
		}
		if w.Before&lexicon.AfterOpen != 0 {
			depth++
		}
		cur.headed = cur.headed || heads[i]
	}
	cur.to = len(s.words)
	return append(out, cur)
}

// lists reports whether the conjunction at word i joins two quantities of one
// kind, as in "one week or one month".
func (r *reading) lists(s *sentence, i int) bool {
	for _, t := range s.targets {
		if t.q == nil || t.to != i {
			continue
		}
		for _, o := range s.targets {
			if o.q != nil && o.class == t.class && o.from == i+1 {
				return true
			}
		}
	}
	return false
}

// starts marks the words at which contrasts, conjunctions and heads begin.
func (r *reading) starts(s *sentence) (contrast, coord, heads []bool) {
	contrast, coord, heads = make([]bool, len(s.words)), make([]bool, len(s.words)), make([]bool, len(s.words))
	share := r.classes["fraction"]
	for _, g := range s.tags {
		if r.roles.Contrast.has(g.class) && (!s.inserted(g) || r.tagged(s, g.from, r.roles.But)) || r.roles.Versus.has(g.class) && s.shareAt(g.to) {
			contrast[g.from] = true
		}
		if r.roles.Coord.has(g.class) {
			coord[g.from] = true
		}
		if r.roles.Act.has(g.class) || g.class == share && (s.has.meets(r.roles.Event) || s.has.meets(r.roles.Nil)) {
			heads[g.from] = true
		}
	}
	return contrast, coord, heads
}

// shareAt reports whether a share begins at word i: what stands before it sets
// one outcome against another ("none in the dark, against 40 % under the lamp").
func (s *sentence) shareAt(i int) bool {
	return slices.ContainsFunc(s.targets, func(t *target) bool { return t.kind == "fraction" && t.from == i })
}

// inserted reports whether commas set g off within its clause: "chilling, by
// contrast, was of no use" is one statement.
func (s *sentence) inserted(g tag) bool {
	return g.from > 0 && g.to < len(s.words) && s.words[g.from].Before == lexicon.AfterComma && s.words[g.to].Before == lexicon.AfterComma
}

// clauseAt returns the clause that word i stands in.
func (s *sentence) clauseAt(i int) int {
	for k, c := range s.clauses {
		if i < c.to {
			return k
		}
	}
	return len(s.clauses) - 1
}

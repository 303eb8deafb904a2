package marked

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/lexicon"
)

// Clause is a stretch of a sentence with a verb of its own: words [from, to).
type Clause struct {
	From, To int
	Strong   bool // parted from the one before by a semicolon, a colon or a contrast
	Colon    bool // parted from it by a colon
	Dash     bool // parted from it by a dash
	Resumes  bool // "those of ...": says of others what the clause before said
	Has      Bits
	Bears    evidence.Bearing // what it says about hatching
	Basis    int              // index of the tag behind bears, -1
}

// Unsaid is the bearing of a clause that says nothing about hatching.
const Unsaid evidence.Bearing = ""

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
func (r *Text) cut(s *Sentence) []Clause {
	ps := r.pieces(s)
	var out []Clause
	for i := 0; i < len(ps); i++ {
		cur := ps[i]
		for i+1 < len(ps) && !ps[i+1].strong && !r.opens(s, cur, ps[i+1], ps[i+2:]) {
			i++
			cur.to, cur.headed = ps[i].to, cur.headed || ps[i].headed
		}
		c := Clause{From: cur.from, To: cur.to, Strong: cur.strong, Resumes: cur.resumes, Basis: -1,
			Colon: s.Words[cur.from].Before&lexicon.AfterColon != 0, Dash: s.Words[cur.from].Before&lexicon.AfterDash != 0}
		for _, g := range s.Tags {
			if g.From >= c.From && g.From < c.To {
				c.Has.Set(g.Class)
			}
		}
		out = append(out, c)
	}
	return out
}

// opens reports whether next begins a new clause behind cur.
func (r *Text) opens(s *Sentence, cur, next piece, rest []piece) bool {
	if len(rest) > 0 && rest[0].headed && !rest[0].strong && s.Words[next.from].Before&lexicon.AfterComma != 0 && s.Tagged(next.from, r.Roles.Relative) && next.headed {
		return true // "10 °C, which others found best, prevented hatching"
	}
	if !cur.headed {
		return false
	}
	if next.headed || next.resumes || s.Between(next.from, next.to, r.Roles.Handful) && r.sharesKind(s, cur, next) || r.denies(s, next) && r.sharesCondition(s, next, cur) {
		return true
	}
	if len(rest) == 0 || !rest[0].headed || rest[0].strong {
		return false
	}
	if s.Tagged(next.from, r.Roles.Coord) && s.Words[next.from].Before&lexicon.AfterComma != 0 && !s.Tagged(rest[0].from, r.Roles.Coord) &&
		r.holdsLevels(s, next) && !r.sharesKind(s, cur, next) {
		return true // ", and pH, tried at 6 and 8, had no effect"
	}
	at := next.from
	for at < next.to && s.Tagged(at, r.Roles.Coord) {
		at++
	}
	whole := r.sharesCondition(s, next, rest[0]) // "at 10 °C in 5 days, at 20 °C none": what follows has its own
	return at < next.to && s.Tagged(at, r.Roles.Prep) && r.sharesKind(s, cur, next) && !whole
}

// denies reports whether the piece opens with a denial of its own: "and was not
// seen at 15 °C".
func (r *Text) denies(s *Sentence, p piece) bool {
	const opening = 3
	return s.Tagged(p.from, r.Roles.Coord) && slices.ContainsFunc(s.Tags, func(g Tag) bool {
		return r.Roles.Neg.Has(g.Class) && g.From > p.from && g.From <= p.from+opening && g.To < p.to && !s.InsideQuantity(g)
	})
}

// holdsLevels reports whether the piece lists levels of a condition.
func (r *Text) holdsLevels(s *Sentence, p piece) bool {
	for _, t := range s.Targets {
		if t.Q != nil && t.Siblings > 1 && t.Kind != "fraction" && t.Kind != "duration" && t.At >= p.from && t.At < p.to {
			return true
		}
	}
	return false
}

// sharesCondition reports whether both pieces hold a condition of one kind.
func (r *Text) sharesCondition(s *Sentence, a, b piece) bool {
	for _, t := range s.Targets {
		if t.Q == nil || t.Kind == "fraction" || t.Kind == "duration" || t.From < a.from || t.From >= a.to {
			continue
		}
		for _, o := range s.Targets {
			if o.Q != nil && o.Class == t.Class && o.From >= b.from && o.From < b.to {
				return true
			}
		}
	}
	return false
}

// sharesKind reports whether both pieces hold a quantity of one kind.
func (r *Text) sharesKind(s *Sentence, a, b piece) bool {
	var in [2]Bits
	for _, t := range s.Targets {
		if t.Q == nil {
			continue
		}
		if t.From >= a.from && t.From < a.to {
			in[0].Set(t.Class)
		}
		if t.From >= b.from && t.From < b.to {
			in[1].Set(t.Class)
		}
	}
	return in[0].Meets(in[1])
}

// pieces cuts s at every place where a clause could begin: not inside
// brackets, quantities or lists of names.
func (r *Text) pieces(s *Sentence) []piece {
	contrast, coord, heads := r.starts(s)
	whole := make([]bool, len(s.Words)+1) // no cut before this word
	for _, t := range s.Targets {
		for i := t.From + 1; i < t.To; i++ {
			whole[i] = true
		}
	}
	for _, g := range s.Names {
		for i := g.From + 1; i < g.To; i++ {
			whole[i] = true
		}
	}
	for _, g := range s.Tags {
		if r.Roles.Contrast.Has(g.Class) && s.inserted(g) && !s.Tagged(g.From, r.Roles.But) {
			whole[g.From], whole[g.To] = true, true
		}
	}
	var out []piece
	cur, depth := piece{}, 0
	for i, w := range s.Words {
		if w.Before&lexicon.AfterClose != 0 && depth > 0 {
			depth--
		}
		soft := w.Before&lexicon.AfterComma != 0 || coord[i] && !r.lists(s, i)
		strong := w.Before&lexicon.AfterStrong != 0 || contrast[i]
		if i > 0 && depth == 0 && !whole[i] && (soft || strong) {
			cur.to = i
			out = append(out, cur)
			cur = piece{from: i, strong: strong, resumes: s.Tagged(i, r.Roles.Resume) || coord[i] && s.Tagged(i+1, r.Roles.Resume)}
		}
		if w.Before&lexicon.AfterOpen != 0 {
			depth++
		}
		cur.headed = cur.headed || heads[i]
	}
	cur.to = len(s.Words)
	return append(out, cur)
}

// lists reports whether the conjunction at word i joins two quantities of one
// kind, as in "one week or one month", or two treatments that one word denies, as
// in "no chilling or freezing".
func (r *Text) lists(s *Sentence, i int) bool {
	for _, g := range s.Tags {
		if r.Roles.Treat.Has(g.Class) && g.To == i && s.StepBack(g.From, r.Roles.Neg) != g.From && s.Between(i+1, i+2, r.Roles.Treat) {
			return true
		}
	}
	for _, t := range s.Targets {
		if t.Q == nil || t.To != i {
			continue
		}
		for _, o := range s.Targets {
			if o.Q != nil && o.Class == t.Class && o.From == i+1 {
				return true
			}
		}
	}
	return false
}

// starts marks the words at which contrasts, conjunctions and heads begin.
func (r *Text) starts(s *Sentence) (contrast, coord, heads []bool) {
	contrast, coord, heads = make([]bool, len(s.Words)), make([]bool, len(s.Words)), make([]bool, len(s.Words))
	share := r.Classes["fraction"]
	for _, g := range s.Tags {
		if r.Roles.Contrast.Has(g.Class) && (!s.inserted(g) || s.Tagged(g.From, r.Roles.But)) || r.Roles.Versus.Has(g.Class) && s.shareAt(g.To) {
			contrast[g.From] = true
		}
		if r.Roles.Coord.Has(g.Class) {
			coord[g.From] = true
		}
		if r.Roles.Act.Has(g.Class) || g.Class == share && (s.Has.Meets(r.Roles.Event) || s.Has.Meets(r.Roles.Nil)) {
			heads[g.From] = true
		}
	}
	return contrast, coord, heads
}

// shareAt reports whether a share begins at word i: what stands before it sets
// one outcome against another ("none in the dark, against 40 % under the lamp").
func (s *Sentence) shareAt(i int) bool {
	return slices.ContainsFunc(s.Targets, func(t *Target) bool { return t.Kind == "fraction" && t.From == i })
}

// inserted reports whether commas set g off within its clause: "chilling, by
// contrast, was of no use" is one statement.
func (s *Sentence) inserted(g Tag) bool {
	return g.From > 0 && g.To < len(s.Words) && s.Words[g.From].Before == lexicon.AfterComma && s.Words[g.To].Before == lexicon.AfterComma
}

// ClauseAt returns the clause that word i stands in.
func (s *Sentence) ClauseAt(i int) int {
	for k, c := range s.Clauses {
		if i < c.To {
			return k
		}
	}
	return len(s.Clauses) - 1
}

// ClauseSpan returns the bytes of a clause without the comma or conjunction
// that parts it from the next.
func (s *Sentence) ClauseSpan(i int) Span {
	c := s.Clauses[i]
	sp := Span{s.Words[c.From].Start, s.End}
	if c.From == 0 {
		sp.Start = s.Start
	}
	if c.To < len(s.Words) {
		sp.End = s.Words[c.To].Start
	}
	text := s.Page.Text[sp.Start:sp.End]
	if c.To < len(s.Words) {
		text = strings.TrimRight(text, " \n\t,;:–—(-")
	} else {
		text = strings.TrimRight(text, " \n\t.")
	}
	if text == "" {
		return Span{s.Start, s.End}
	}
	return Span{sp.Start, sp.Start + len(text)}
}

// Part counts the semicolons before word i.
func (s *Sentence) Part(i int) (n int) {
	for k := 1; k <= i && k < len(s.Words); k++ {
		if s.Words[k].Before&(lexicon.AfterStrong|lexicon.AfterColon) == lexicon.AfterStrong {
			n++
		}
	}
	return n
}

package marked

import "hatchlore/evidence/rule/lexicon"

// Reach is how many sentences each way count as the same block of text.
const Reach = 4

// Beside returns the sentence d further on than s, or before it where d is
// negative, if it belongs to the same region; else nil. While a text is being marked,
// there are those before s alone.
func (r *Text) Beside(s *Sentence, d int) *Sentence {
	k := s.Index + d
	if k < 0 || k >= len(r.Sentences) || r.Sentences[k].Region != s.Region {
		return nil
	}
	return r.Sentences[k]
}

// Neighbour returns the classes of [Text.Beside].
func (r *Text) Neighbour(s *Sentence, d int) Bits {
	if o := r.Beside(s, d); o != nil {
		return o.Has
	}
	return Bits{}
}

// Elsewhere reports whether a cue other than the target begins at [from, to).
func (s *Sentence) Elsewhere(t *Target, b Bits, from, to int) bool {
	for _, g := range s.Tags {
		if g.From >= from && g.From < to && b.Has(g.Class) && !(g.Class == t.Class && g.From == t.From) {
			return true
		}
	}
	return false
}

// Within reports whether a cue ends at most before words ahead of the target
// or begins at most after words behind it.
func (s *Sentence) Within(t *Target, b Bits, before, after int) bool {
	for _, g := range s.Tags {
		if !b.Has(g.Class) {
			continue
		}
		if d := t.From - g.To; before > 0 && d >= 0 && d < before && !s.semicolon(g.To, t.From) {
			return true
		}
		if d := g.From - t.To; after > 0 && d >= 0 && d < after && !s.semicolon(t.To, g.From) {
			return true
		}
	}
	return false
}

// Overlaps reports whether a cue of the classes, but not of the target's own,
// shares words with the target.
func (s *Sentence) Overlaps(t *Target, b Bits) bool {
	for _, g := range s.Tags {
		if b.Has(g.Class) && g.From < t.To && t.From < g.To && g.Class != t.Class {
			return true
		}
	}
	return false
}

// OverlapsTag reports whether a cue of the classes shares words with t.
func (s *Sentence) OverlapsTag(t Tag, b Bits) bool {
	for _, g := range s.Tags {
		if b.Has(g.Class) && g.From < t.To && t.From < g.To {
			return true
		}
	}
	return false
}

// Nearest returns the cue of the classes nearest to the target. What stands
// behind the target is a little further than what stands as far before it, and
// commas, brackets and clause limits add to the distance.
func (s *Sentence) Nearest(t *Target, b Bits) *Tag {
	const behind, comma, bracket, limit = 2, 2, 2, 8
	var best *Tag
	least := 1 << 30
	for i := range s.Tags {
		g := &s.Tags[i]
		if !b.Has(g.Class) || g.Class == t.Class && g.From == t.From {
			continue
		}
		d, lo, hi := 0, 0, 0
		switch {
		case g.To <= t.From:
			lo, hi = g.To, t.From
			d = hi - lo
		case g.From >= t.To:
			lo, hi = t.To, g.From
			d = hi - lo + behind
		default:
			return g
		}
		for i := lo; i <= hi && i < len(s.Words); i++ {
			if w := s.Words[i].Before; w&lexicon.AfterComma != 0 {
				d += comma
			} else if w&(lexicon.AfterOpen|lexicon.AfterClose) != 0 {
				d += bracket
			}
		}
		k := s.ClauseAt(g.From) - t.Clause
		d += limit * max(k, -k)
		if d < least {
			best, least = g, d
		}
	}
	return best
}

// Tagged reports whether a cue of the classes begins at word i.
func (s *Sentence) Tagged(i int, b Bits) bool {
	for _, g := range s.Tags {
		if g.From == i && b.Has(g.Class) {
			return true
		}
	}
	return false
}

// Between reports whether a cue of the classes begins at words [from, to).
func (s *Sentence) Between(from, to int, b Bits) bool {
	for _, g := range s.Tags {
		if g.From >= from && g.From < to && b.Has(g.Class) {
			return true
		}
	}
	return false
}

// StepBack returns the word at which cues of the classes that end at word i
// begin; i when there is none.
func (s *Sentence) StepBack(i int, b Bits) int {
	for _, g := range s.Tags {
		if g.To == i && b.Has(g.Class) {
			return g.From
		}
	}
	return i
}

// InsideQuantity reports whether a tag stands within a list of values, as "nor"
// does in "at 6 nor at 32 °C": it joins and denies nothing.
func (s *Sentence) InsideQuantity(g Tag) bool {
	for _, t := range s.Targets {
		if t.Q != nil && t.From < g.From && g.To < t.To {
			return true
		}
	}
	return false
}

// semicolon reports whether one stands before one of the words [from, to].
func (s *Sentence) semicolon(from, to int) bool {
	for i := from; i <= to && i < len(s.Words); i++ {
		if s.Words[i].Before&(lexicon.AfterStrong|lexicon.AfterColon|lexicon.AfterDash) == lexicon.AfterStrong {
			return true
		}
	}
	return false
}

// broken reports whether punctuation parts the words [from, to].
func (s *Sentence) broken(from, to int) bool {
	for i := from; i <= to && i < len(s.Words); i++ {
		if s.Words[i].Before != 0 {
			return true
		}
	}
	return false
}

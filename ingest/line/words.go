package line

import (
	"slices"
	"strings"
	"unicode"

	"hatchlore/ingest/prose"
)

// splitGap is the widest gap, in sizes, that may be a space put inside a word by
// mistake. A space between words is seldom narrower in print.
const splitGap = 0.28

// Counts that make the paper's vocabulary sure of a word that a space or a lost
// ligature broke: how often it prints the whole, at the least, and how often one
// of the pieces by itself, at the most (the broken place counts).
const (
	wholeMin = 2
	pieceMax = 1
	wordMin  = 6 // letters of the whole
)

// MendWords closes up words that a space broke and fills in ligatures that the
// font does not map, where the vocabulary knows the whole word. It reports
// whether anything changed.
func (s *Strip) MendWords(v prose.Vocabulary) bool {
	changed := false
	for i := len(s.Glyphs) - 2; i > 0; i-- {
		switch g := &s.Glyphs[i]; {
		case g.Rune == ' ' && g.X1-g.X0 < splitGap*s.Size && s.splits(i, v):
			s.Glyphs = slices.Delete(s.Glyphs, i, i+1)
			changed = true
		case g.Coded && g.mended == 0 && !unicode.IsLetter(g.Rune) && !unicode.IsDigit(g.Rune):
			if lig := s.lostLigature(i, v); lig != 0 {
				g.mended, changed = lig, true
			}
		}
	}
	return changed
}

// splits reports whether the space at i stands inside a word.
func (s *Strip) splits(i int, v prose.Vocabulary) bool {
	head, tail := s.lettersBefore(i), s.lettersAfter(i)
	if head == "" || tail == "" || len([]rune(head+tail)) < wordMin {
		return false
	}
	if r := prose.First(tail); unicode.IsUpper(r) {
		return false
	}
	head, tail = strings.ToLower(head), strings.ToLower(tail)
	return v[head+tail] >= wholeMin && min(v[head], v[tail]) <= pieceMax
}

// lostLigature returns the one ligature that makes a known word of the letters
// about the glyph at i, 0 for none or several.
func (s *Strip) lostLigature(i int, v prose.Vocabulary) rune {
	head, tail := strings.ToLower(s.lettersBefore(i)), strings.ToLower(s.lettersAfter(i))
	if len(head)+len(tail) < 3 {
		return 0
	}
	var found rune
	for _, lig := range "ﬁﬂﬀﬃﬄ" {
		if v[head+ligature(lig)+tail] == 0 {
			continue
		}
		if found != 0 {
			return 0
		}
		found = lig
	}
	return found
}

func (s *Strip) lettersBefore(i int) string {
	from := i
	for from > 0 && unicode.IsLetter(s.Glyphs[from-1].Rune) && !s.Glyphs[from-1].Coded && s.Glyphs[from-1].script == 0 {
		from--
	}
	return Spell(s.Glyphs[from:i])
}

func (s *Strip) lettersAfter(i int) string {
	to := i + 1
	for to < len(s.Glyphs) && unicode.IsLetter(s.Glyphs[to].Rune) && !s.Glyphs[to].Coded && s.Glyphs[to].script == 0 {
		to++
	}
	return Spell(s.Glyphs[i+1 : to])
}

// Spell spells glyphs, ligatures written out.
func Spell(glyphs []Glyph) string {
	var b strings.Builder
	for i := range glyphs {
		if lig := ligature(glyphs[i].Rune); lig != "" {
			b.WriteString(lig)
			continue
		}
		b.WriteRune(glyphs[i].Rune)
	}
	return b.String()
}

package ingest

import (
	"slices"
	"strings"
	"unicode"
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

// mendWords closes up words that a space broke and fills in ligatures that the
// font does not map, where the vocabulary knows the whole word. It reports
// whether anything changed.
func (s *strip) mendWords(v vocabulary) bool {
	changed := false
	for i := len(s.glyphs) - 2; i > 0; i-- {
		switch g := &s.glyphs[i]; {
		case g.r == ' ' && g.x1-g.x0 < splitGap*s.size && s.splits(i, v):
			s.glyphs = slices.Delete(s.glyphs, i, i+1)
			changed = true
		case g.coded && g.mended == "" && !unicode.IsLetter(g.r) && !unicode.IsDigit(g.r):
			if lig := s.lostLigature(i, v); lig != "" {
				g.mended, changed = lig, true
			}
		}
	}
	return changed
}

// splits reports whether the space at i stands inside a word.
func (s *strip) splits(i int, v vocabulary) bool {
	head, tail := s.lettersBefore(i), s.lettersAfter(i)
	if head == "" || tail == "" || len([]rune(head+tail)) < wordMin {
		return false
	}
	if r := firstRune(tail); unicode.IsUpper(r) {
		return false
	}
	head, tail = strings.ToLower(head), strings.ToLower(tail)
	return v[head+tail] >= wholeMin && min(v[head], v[tail]) <= pieceMax
}

// lostLigature returns the one ligature that makes a known word of the letters
// about the glyph at i, "" for none or several.
func (s *strip) lostLigature(i int, v vocabulary) string {
	head, tail := strings.ToLower(s.lettersBefore(i)), strings.ToLower(s.lettersAfter(i))
	if len(head)+len(tail) < 3 {
		return ""
	}
	found := ""
	for _, lig := range []string{"fi", "fl", "ff", "ffi", "ffl"} {
		if v[head+lig+tail] == 0 {
			continue
		}
		if found != "" {
			return ""
		}
		found = lig
	}
	return found
}

func (s *strip) lettersBefore(i int) string {
	from := i
	for from > 0 && unicode.IsLetter(s.glyphs[from-1].r) && !s.glyphs[from-1].coded && s.glyphs[from-1].script == 0 {
		from--
	}
	return runes(s.glyphs[from:i])
}

func (s *strip) lettersAfter(i int) string {
	to := i + 1
	for to < len(s.glyphs) && unicode.IsLetter(s.glyphs[to].r) && !s.glyphs[to].coded && s.glyphs[to].script == 0 {
		to++
	}
	return runes(s.glyphs[i+1 : to])
}

// runes spells glyphs, ligatures written out.
func runes(glyphs []glyph) string {
	var b strings.Builder
	for i := range glyphs {
		if lig := ligature(glyphs[i].r); lig != "" {
			b.WriteString(lig)
			continue
		}
		b.WriteRune(glyphs[i].r)
	}
	return b.String()
}

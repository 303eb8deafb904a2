package line

import (
	"strings"
	"unicode"

	"hatchlore/ingest/prose"
)

// quadGap is the narrowest gap, in sizes, that sets a run-in heading off from
// its text; the space between words is seldom half as wide.
const quadGap = 0.9

// StartsBold reports whether the strip's first word is bold.
func (s *Strip) StartsBold() bool { return len(s.Glyphs) > 2 && s.Glyphs[0].Bold && s.Glyphs[2].Bold }

// FaceEnds finds where the words in a face at the start of the strip end, and
// where those in another begin: behind a space, or behind the dash after a stop.
// Both are 0 where the face changes inside a word.
func (s *Strip) FaceEnds(in func(*Glyph) bool) (end, next int) {
	last := 0 // the last letter or digit in the face
	for i := range s.Glyphs {
		g := &s.Glyphs[i]
		if unicode.IsLetter(g.Rune) || unicode.IsDigit(g.Rune) {
			if !in(g) {
				break
			}
			last = i
		}
		switch {
		case g.Rune == ' ' || i+1 == len(s.Glyphs):
		case s.Glyphs[i+1].Rune == ' ':
			end, next = i+1, i+2
		case i > 0 && isDash(g.Rune) && (s.Glyphs[i-1].Rune == '.' || s.Glyphs[i-1].Rune == ':'):
			end, next = i+1, i+1
		}
	}
	if last >= end {
		return 0, 0
	}
	return end, next
}

func isDash(r rune) bool { return r == '–' || r == '—' }

// StartsItalic reports whether the strip's first word is in italics.
func (s *Strip) StartsItalic() bool {
	return len(s.Glyphs) > 2 && s.Glyphs[0].Italic && s.Glyphs[1].Italic && s.Glyphs[2].Italic
}

// SetOff reports whether what stands before end is told from the sentence that
// begins at next by more than its face.
func (s *Strip) SetOff(end, next int) bool {
	if end == 0 || next >= len(s.Glyphs) {
		return false
	}
	switch r := prose.FirstLetter(Spell(s.Glyphs[next:])); {
	case !unicode.IsUpper(r) && !unicode.IsDigit(r):
		return false
	case strings.ContainsRune(".:–—?", s.Glyphs[end-1].Rune):
		return true
	}
	return next > end && s.Glyphs[end].X1-s.Glyphs[end].X0 >= quadGap*s.Size
}

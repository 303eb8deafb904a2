package line

import (
	"slices"
	"unicode"

	"hatchlore/ingest/letter"
)

// combining returns the combining form of an accent that typesetters draw as a
// character of its own, 0 for any other character.
func combining(r rune) rune {
	if r < '\u00A8' {
		return 0
	}
	switch r {
	case '\u02D9': // ˙
		return '\u0307'
	case '\u00A8': // ¨
		return '\u0308'
	case '\u00B4', '\u02CA': // ´
		return '\u0301'
	case '\u02CB': // ˋ
		return '\u0300'
	case '\u02C6': // ˆ
		return '\u0302'
	case '\u02DC': // ˜
		return '\u0303'
	case '\u02C7': // ˇ
		return '\u030C'
	case '\u00AF': // ¯
		return '\u0304'
	case '\u00B8': // ¸
		return '\u0327'
	}
	if unicode.Is(unicode.Mn, r) {
		return r
	}
	return 0
}

// under returns the index of the letter of the strip under which or over which
// the accent g stands, -1 for none.
func (s *Strip) under(g *Glyph) int {
	middle := (g.X0 + g.X1) / 2
	for i := len(s.Glyphs) - 1; i >= 0; i-- {
		if b := &s.Glyphs[i]; unicode.IsLetter(b.Rune) && middle > b.X0-0.05*b.size && middle < b.X1+0.05*b.size &&
			g.base > b.base-b.size && g.base < b.base+0.5*b.size {
			return i
		}
	}
	return -1
}

// accent joins an accent with its letter, whichever the file draws first. It
// reports whether g was taken up so.
func (s *Strip) accent(g Glyph) bool {
	if c := combining(g.Rune); c != 0 || s.dotAbove(&g) {
		i := s.under(&g)
		if i < 0 {
			return false
		}
		if c == 0 {
			c = '\u0307'
		}
		s.put(i, g, c)
		return true
	}
	last := &s.Glyphs[len(s.Glyphs)-1]
	c := combining(last.Rune)
	middle := (last.X0 + last.X1) / 2
	if c == 0 || unicode.Is(unicode.Mn, last.Rune) || !unicode.IsLetter(g.Rune) || middle < g.X0 || middle > g.X1 {
		return false
	}
	mark := *last
	*last = g
	if len(s.Glyphs) == 1 {
		s.Base, s.Size = g.base, g.size // the line's, not the accent's
	}
	s.put(len(s.Glyphs)-1, mark, c)
	s.X1, s.bottom = max(s.X1, g.X1), max(s.bottom, g.bottom)
	return true
}

// put sets the accent c, drawn as g, upon the i-th glyph: as one character with
// it where there is one, else behind it.
func (s *Strip) put(i int, g Glyph, c rune) {
	base := &s.Glyphs[i]
	if r := letter.Compose(base.Rune, c); r != 0 && !base.Coded {
		base.Rune = r
		return
	}
	g.Rune, g.base, g.size, g.Coded = c, base.base, base.size, false
	s.Glyphs = slices.Insert(s.Glyphs, i+1, g)
}

// dotAbove reports whether an unmapped glyph, or a middle dot, is a dot over a letter, as in the
// sign of a rate: small, square, and clear of the letter below.
func (s *Strip) dotAbove(g *Glyph) bool {
	w, h := g.X1-g.X0, g.bottom-g.top
	if !g.Coded && g.Rune != '·' || w > 0.2*g.size || h > 0.2*g.size || w < 0.5*h || h < 0.5*w {
		return false
	}
	i := s.under(g)
	return i >= 0 && g.bottom < s.Glyphs[i].top+0.1*g.size
}

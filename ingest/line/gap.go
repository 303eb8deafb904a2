package line

import (
	"strings"
)

// Gaps counts the cell gaps of the strip.
func (s *Strip) Gaps() int {
	n := 0
	for i := range s.Glyphs {
		if s.Glyphs[i].Rune == '\t' {
			n++
		}
	}
	return n
}

// GapAt returns the index of the cell gap that lies across x, -1 for none.
func (s *Strip) GapAt(x float64) int {
	for i := range s.Glyphs {
		if g := &s.Glyphs[i]; g.Rune == '\t' && g.X0 < x && g.X1 > x {
			return i
		}
	}
	return -1
}

// Coded reports whether the strip has characters without a map.
func (s *Strip) Coded() bool {
	for i := range s.Glyphs {
		if s.Glyphs[i].Coded {
			return true
		}
	}
	return false
}

// Prose returns the strip's text with cell gaps as spaces, so that spans hold.
func (s *Strip) Prose() string { return strings.ReplaceAll(s.Text, "\t", " ") }

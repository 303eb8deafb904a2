package line

import (
	"slices"
	"strings"
	"unicode"
)

// A sign that the file draws apart from its line (a raised decimal point, a degree
// sign out of another font) leaves a gap there, and "3·5" would read as two
// numbers. It is put back where it stands in print.

// strayGlyphs is how many signs a stray piece has at most.
const strayGlyphs = 2

// strayReach is how far a stray sign may run over the gap's edges, in sizes.
const strayReach = 0.15

// takeStrays puts signs that stand alone into the gaps of the lines in which they
// are printed, and returns the strips without them.
func takeStrays(strips []*Strip) []*Strip {
	out := make([]*Strip, 0, len(strips))
	for _, s := range strips {
		if !s.isStray() || !slices.ContainsFunc(strips, func(t *Strip) bool { return t != s && t.embed(s) }) {
			out = append(out, s)
		}
	}
	return out
}

// isStray reports whether the strip is nothing but a sign.
func (s *Strip) isStray() bool {
	return len(s.Glyphs) <= strayGlyphs && !s.Sideways && !slices.ContainsFunc(s.Glyphs, func(g Glyph) bool {
		return unicode.IsLetter(g.Rune) || unicode.IsDigit(g.Rune) || g.Rune == ' ' || g.Rune == '\t'
	})
}

// embed puts o into the gap of the strip in which it stands; false where there is
// none.
func (s *Strip) embed(o *Strip) bool {
	if s.Sideways || o.Base < s.Base-s.Size || o.Base > s.Base+0.3*s.Size {
		return false
	}
	for i := range s.Glyphs {
		g := &s.Glyphs[i]
		if g.Rune != ' ' && g.Rune != '\t' || o.X0 < g.X0-strayReach*s.Size || o.X1 > g.X1+strayReach*s.Size {
			continue
		}
		in := o.Glyphs
		if !s.pointAt(i, o) {
			in = slices.Concat(s.blank(g.X0, o.X0), o.Glyphs, s.blank(o.X1, g.X1))
		}
		s.Glyphs = slices.Replace(slices.Clone(s.Glyphs), i, i+1, in...)
		s.settle()
		return true
	}
	return false
}

// pointAt reports whether o is the decimal sign of the number that the i-th glyph, a
// gap, breaks.
func (s *Strip) pointAt(i int, o *Strip) bool {
	g := &s.Glyphs[i]
	return len(o.Glyphs) == 1 && strings.ContainsRune(".,·", o.Glyphs[0].Rune) && g.X1-g.X0 < s.Size &&
		i > 0 && unicode.IsDigit(s.Glyphs[i-1].Rune) && i+1 < len(s.Glyphs) && unicode.IsDigit(s.Glyphs[i+1].Rune)
}

// blank returns the space or the gap between cells that a stretch of the line is,
// none for one that is too narrow.
func (s *Strip) blank(x0, x1 float64) []Glyph {
	g := Glyph{Rune: ' ', X0: x0, X1: x1, base: s.Base, size: s.Size}
	switch wide := x1 - x0; {
	case wide > CellGap*s.Size:
		g.Rune = '\t'
	case wide <= spaceLineEnd*s.Size:
		return nil
	}
	return []Glyph{g}
}

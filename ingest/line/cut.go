package line

import (
	"slices"
)

// Split cuts the strip before its i-th glyph; the glyph there, a gap, is
// dropped.
func (s *Strip) Split(i int) (left, right *Strip) { return s.Cut(i, i+1) }

// Cut takes the strip's glyphs before end and those from next on apart; between
// them is nothing or a gap.
func (s *Strip) Cut(end, next int) (left, right *Strip) {
	part := func(g []Glyph) *Strip {
		p := &Strip{Glyphs: slices.Clone(g), Sideways: s.Sideways}
		p.X0, p.X1, p.Top, p.bottom = g[0].X0, g[0].X1, g[0].top, g[0].bottom
		for _, g := range g {
			if g.Rune != ' ' && g.Rune != '\t' {
				p.X0, p.X1 = min(p.X0, g.X0), max(p.X1, g.X1)
				p.Top, p.bottom = min(p.Top, g.top), max(p.bottom, g.bottom)
			}
		}
		p.settle()
		return p
	}
	return part(s.Glyphs[:end]), part(s.Glyphs[next:])
}

// Pieces returns the cells of the strip as strips of their own.
func (s *Strip) Pieces() []*Strip {
	var out []*Strip
	rest := s
	for i := 0; i < len(rest.Glyphs); i++ {
		if rest.Glyphs[i].Rune != '\t' {
			continue
		}
		var cell *Strip
		cell, rest = rest.Split(i)
		out, i = append(out, cell), -1
	}
	return append(out, rest)
}

// Absorb puts o behind s.
func (s *Strip) Absorb(o *Strip) {
	s.add(o.Glyphs[0], gap{least: spaceLineEnd})
	s.take(o, 1)
}

// AbsorbCell puts o behind s as a cell of its own.
func (s *Strip) AbsorbCell(o *Strip) {
	s.Glyphs = append(slices.Clone(s.Glyphs), Glyph{Rune: '\t', X0: s.X1, X1: o.X0, base: s.Base, size: s.Size})
	s.take(o, 0)
}

func (s *Strip) take(o *Strip, from int) {
	s.Glyphs = append(s.Glyphs, o.Glyphs[from:]...)
	s.X1, s.Top, s.bottom = max(s.X1, o.X1), min(s.Top, o.Top), max(s.bottom, o.bottom)
	s.settle()
}

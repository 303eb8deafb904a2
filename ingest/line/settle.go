package line

import (
	"slices"
)

// settle finds the type of most of the strip: its size, baseline and face, and from
// them its raised and lowered characters.
func (s *Strip) settle() {
	s.measureType()
	if !s.Sideways {
		s.findScripts()
	}
}

func (s *Strip) measureType() {
	sizes, bases := make([]float64, 0, len(s.Glyphs)), make([]float64, 0, len(s.Glyphs))
	bold, italic, hid := 0, 0, 0
	for i := range s.Glyphs {
		g := &s.Glyphs[i]
		if g.Rune == ' ' || g.Rune == '\t' {
			continue
		}
		sizes = append(sizes, g.size)
		if g.Bold {
			bold++
		}
		if g.Italic {
			italic++
		}
		if g.Hidden {
			hid++
		}
	}
	inked := len(sizes)
	s.Bold, s.Italic, s.Hidden = 10*bold >= 9*inked, 2*italic >= inked, 2*hid > inked
	sort(sizes)
	// The upper quartile: a line may be mostly scripts, but not its largest type.
	s.Size = sizes[inked*3/4]
	for i := range s.Glyphs {
		if g := &s.Glyphs[i]; g.Rune != ' ' && g.Rune != '\t' && g.size >= 0.9*s.Size {
			bases = append(bases, g.base)
		}
	}
	sort(bases)
	s.Base = bases[len(bases)/2]
}

func (s *Strip) findScripts() {
	for i := range s.Glyphs {
		g := &s.Glyphs[i]
		rise := s.Base - g.base
		off := 0.12
		if g.size > scriptFit*s.Size {
			off = sameBase
		}
		switch {
		case rise > off*s.Size:
			g.script = 1
		case rise < -off*s.Size:
			g.script = -1
		default:
			g.script = 0 // as part of another line it may have been one
		}
	}
}

// sort sorts numbers that are mostly equal.
func sort(x []float64) {
	for i := 1; i < len(x); i++ {
		if x[i] < x[i-1] {
			slices.Sort(x)
			return
		}
	}
}

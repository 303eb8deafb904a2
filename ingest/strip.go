package ingest

import (
	"math"
	"slices"
	"unicode"

	"hatchlore/ingest/pdf"
)

// glyph is one character on its way into the text. Spaces and the gaps between
// table cells (a tab) are glyphs too.
type glyph struct {
	r             rune
	x0, x1        float64
	top, bottom   float64
	base, size    float64
	bold, italic  bool
	coded         bool // the font maps it to no character
	hyphen        bool
	script        int8 // 1 raised, -1 lowered
	sideways, hid bool
	unsure        bool   // read from a picture, and not surely
	mended        string // what stands for it by the paper's vocabulary
}

// strip is a printed line: glyphs on one baseline that follow one another both
// in the file and on the page. A line of text is one strip; so is a table row.
type strip struct {
	glyphs      []glyph
	x0, x1      float64
	top, bottom float64
	base, size  float64
	bold        bool
	italic      bool // more than half of it is: a name in an italic heading is set upright
	sideways    bool
	hidden      bool

	text  string // set by repair
	marks []Mark // spans of text
	cells []Cell // spans of text; one for a line without gaps
	furn  bool   // a running head or foot
}

// Distances in font sizes that make strips. Common practice, tuned on typeset
// articles.
const (
	sameBase  = 0.25 // baselines closer than this are one
	scriptMax = 0.75 // a smaller character this far off the baseline is a script
	scriptFit = 0.88 // and is at most this much of the line's size
	backMax   = 1.0  // the pen may step back this far, for accents and kerning
	cellGap   = 1.6  // a gap wider than this separates table cells
)

// How wide a gap is a space where the file has none. pdfium judges by the
// characters' advance and puts spaces in; its boxes are the ink's, and a slim
// digit has a wide gap about it. Around its line ends, which it also puts
// before and after scripts, the gap decides. The second reader has no spaces of
// its own but boxes of the full advance.
const (
	spaceInk     = 0.60
	spaceLineEnd = 0.25
	spaceAdvance = 0.15
)

// strips cuts the characters of a page into strips, in the order of the file.
func strips(p *pdf.Page, advance bool) []*strip {
	usual := spaceInk
	if advance {
		usual = spaceAdvance
	}
	var out []*strip
	var cur *strip
	// All glyphs of a page lie in one piece of memory, strip behind strip.
	room := make([]glyph, 0, len(p.Chars)+len(p.Chars)/8)
	space, accented := usual, false
	for i := range p.Chars {
		c := &p.Chars[i]
		if !placed(c) {
			continue
		}
		if blank(p.Chars, i) {
			if c.Flags&pdf.Generated != 0 && (c.Rune != ' ' || accented) {
				space = min(space, spaceLineEnd)
			} else {
				space = anyGap
			}
			continue
		}
		g := newGlyph(c)
		if cur == nil || !cur.takes(&g) {
			room = cur.close(room)
			cur = &strip{glyphs: room}
			out = append(out, cur)
		}
		accented = cur.add(g, space)
		space = usual
	}
	cur.close(room)
	for _, s := range out {
		s.settle()
	}
	return out
}

// close ends a strip that was written into the room given, and returns the
// room behind it.
func (s *strip) close(room []glyph) []glyph {
	if s == nil {
		return room
	}
	n := len(s.glyphs)
	s.glyphs = s.glyphs[:n:n]
	if n > cap(room) {
		return nil // it outgrew the room, and so has memory of its own
	}
	return room[n:n]
}

// anyGap is a space that the file or the engine put there, whatever the gap.
const anyGap = -1e9

// blank reports whether a character is a space. A font without a character map
// has its space under some code of its own, known by a box without height. Among
// characters with a map, such a box is a sign whose shape the engine lacks.
func blank(chars []pdf.Char, i int) bool {
	c := &chars[i]
	if c.Flags&pdf.MapError != 0 && c.Flags&pdf.Generated == 0 {
		return c.Bottom-c.Top < 0.02*c.Size && (i == 0 || !mapped(&chars[i-1])) && (i+1 == len(chars) || !mapped(&chars[i+1]))
	}
	return unicode.IsSpace(c.Rune) || c.Rune == 0 || c.Rune == 0xFEFF || c.Rune == 0x200B
}

func mapped(c *pdf.Char) bool { return c.Flags&(pdf.MapError|pdf.Generated) == 0 }

// placed reports whether a character has a place that can be reckoned with;
// damaged files put some at infinity.
func placed(c *pdf.Char) bool {
	for _, v := range []float32{c.Left, c.Right, c.Top, c.Bottom, c.Origin, c.Size} {
		if !(v > -1e6 && v < 1e6) {
			return false
		}
	}
	return true
}

// inkedCode is added to the code of a character that is none of the spaces
// whose code it has.
const inkedCode = '\uE000'

func newGlyph(c *pdf.Char) glyph {
	g := glyph{
		r: c.Rune, x0: float64(c.Left), x1: float64(c.Right), top: float64(c.Top), bottom: float64(c.Bottom),
		base: float64(c.Origin), size: float64(c.Size),
		bold: c.Weight >= 600, italic: c.Flags&pdf.Italic != 0, coded: c.Flags&pdf.MapError != 0, hyphen: c.Flags&pdf.Hyphen != 0,
		sideways: c.Flags&pdf.Sideways != 0, hid: c.Flags&pdf.Hidden != 0, unsure: c.Flags&pdf.Unsure != 0,
	}
	if g.r == ' ' || g.r == '\t' {
		g.r += inkedCode // an unmapped glyph with ink under a space's code
	}
	if g.size < 0.1 {
		g.size = max(g.bottom-g.top, 1)
	}
	return g
}

// takes reports whether g goes on where the strip ends.
func (s *strip) takes(g *glyph) bool {
	last := &s.glyphs[len(s.glyphs)-1]
	if g.sideways != s.sideways {
		return false
	}
	if s.sideways {
		return s.takesSideways(g, last)
	}
	size := max(s.size, g.size)
	if (combining(g.r) != 0 || s.dotAbove(g)) && s.under(g) >= 0 {
		return true
	}
	gap := g.x0 - s.x1
	if gap < -backMax*size {
		return false
	}
	rise := math.Abs(g.base - s.base)
	if rise <= sameBase*size {
		return true
	}
	return rise <= scriptMax*size && (g.size <= scriptFit*s.size || s.size <= scriptFit*g.size || gap < 0.3*size) &&
		g.top < s.bottom && g.bottom > s.top
}

// takesSideways follows lettering that runs up or down the page.
func (s *strip) takesSideways(g, last *glyph) bool {
	dx, dy := g.x0-last.x0, g.top-last.top
	return math.Hypot(dx, dy) < 3*max(g.size, last.size)
}

// add puts g at the end of the strip; space is the gap, in sizes, from which
// on there is a space before it. It reports whether g went upon a letter.
func (s *strip) add(g glyph, space float64) (accent bool) {
	n := len(s.glyphs)
	if n == 0 {
		s.x0, s.x1, s.top, s.bottom = g.x0, g.x1, g.top, g.bottom
		s.base, s.size, s.sideways = g.base, g.size, g.sideways
		s.glyphs = append(s.glyphs, g)
		return false
	}
	if s.accent(g) {
		return true
	}
	last := s.glyphs[n-1]
	gap, size := g.x0-s.x1, min(last.size, g.size)
	switch {
	case !s.sideways && gap > cellGap*max(last.size, g.size):
		s.glyphs = append(s.glyphs, glyph{r: '\t', x0: s.x1, x1: g.x0, base: s.base, size: s.size, bold: last.bold, italic: last.italic})
	case space == anyGap || gap > space*size && !s.sideways:
		s.glyphs = append(s.glyphs, glyph{r: ' ', x0: s.x1, x1: g.x0, base: s.base, size: s.size, bold: last.bold, italic: last.italic})
	}
	s.glyphs = append(s.glyphs, g)
	s.x0, s.x1 = min(s.x0, g.x0), max(s.x1, g.x1)
	s.top, s.bottom = min(s.top, g.top), max(s.bottom, g.bottom)
	if g.size > 1.12*s.size {
		// The strip began with a script; this is the line proper.
		s.base, s.size = g.base, g.size
	}
	return false
}

// settle finds the baseline and size of most of the strip, and from them its
// raised and lowered characters.
func (s *strip) settle() {
	sizes, bases := make([]float64, 0, len(s.glyphs)), make([]float64, 0, len(s.glyphs))
	bold, italic, hid, inked := 0, 0, 0, 0
	for i := range s.glyphs {
		g := &s.glyphs[i]
		if g.r == ' ' || g.r == '\t' {
			continue
		}
		inked++
		sizes = append(sizes, g.size)
		if g.bold {
			bold++
		}
		if g.italic {
			italic++
		}
		if g.hid {
			hid++
		}
	}
	sort(sizes)
	// The upper quartile: a line may be mostly scripts, but not its largest type.
	s.size = sizes[len(sizes)*3/4]
	for i := range s.glyphs {
		if g := &s.glyphs[i]; g.r != ' ' && g.r != '\t' && g.size >= 0.9*s.size {
			bases = append(bases, g.base)
		}
	}
	sort(bases)
	s.base = bases[len(bases)/2]
	s.bold, s.italic, s.hidden = 10*bold >= 9*inked, 2*italic > inked, 2*hid > inked
	if s.sideways {
		return
	}
	for i := range s.glyphs {
		g := &s.glyphs[i]
		rise := s.base - g.base
		off := 0.12
		if g.size > scriptFit*s.size {
			off = sameBase
		}
		switch {
		case rise > off*s.size:
			g.script = 1
		case rise < -off*s.size:
			g.script = -1
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

// split cuts the strip before its i-th glyph; the glyph there, a gap, is
// dropped.
func (s *strip) split(i int) (left, right *strip) { return s.cut(i, i+1) }

// cut takes the strip's glyphs before end and those from next on apart; between
// them is nothing or a gap.
func (s *strip) cut(end, next int) (left, right *strip) {
	part := func(g []glyph) *strip {
		p := &strip{glyphs: slices.Clone(g), sideways: s.sideways}
		p.x0, p.x1, p.top, p.bottom = g[0].x0, g[0].x1, g[0].top, g[0].bottom
		for _, g := range g {
			if g.r != ' ' && g.r != '\t' {
				p.x0, p.x1 = min(p.x0, g.x0), max(p.x1, g.x1)
				p.top, p.bottom = min(p.top, g.top), max(p.bottom, g.bottom)
			}
		}
		p.settle()
		return p
	}
	return part(s.glyphs[:end]), part(s.glyphs[next:])
}

// Package line makes printed lines out of the characters of a page: which belong
// together, where spaces and the gaps between cells are, what is raised or
// lowered, and the repaired text of each line with the marks of what was inferred.
//
// It never moves a character from one line to another by meaning, never joins two
// numbers, and never alters a digit: a number with a character that does not map
// to text is marked, not mended.
package line

import (
	"math"
	"slices"
	"unicode"

	"hatchlore/ingest"
	"hatchlore/ingest/letter"
	"hatchlore/ingest/number"
	"hatchlore/ingest/pdf"
)

// Glyph is one character on its way into the text. Spaces and the gaps between
// table cells (a tab) are glyphs too. There are millions of them: none points
// anywhere, so that the collector passes over them.
type Glyph struct {
	Rune             rune
	mended           rune // the ligature that stands for it by the paper's vocabulary
	X0, X1           float64
	top, bottom      float64
	base, size       float64
	Bold, Italic     bool
	Coded            bool // the font maps it to no character
	hyphen           bool
	script           int8 // 1 raised, -1 lowered
	sideways, Hidden bool
	unsure           bool // read from a picture, and not surely
	signs            bool // set in a font of signs
	thin             bool // a space that the file has narrower than others, or unbreakable
}

// Strip is a printed line: glyphs on one baseline that follow one another both
// in the file and on the page. A line of text is one strip; so is a table row.
type Strip struct {
	Glyphs      []Glyph
	X0, X1      float64
	Top, bottom float64
	Base, Size  float64
	Bold        bool
	Italic      bool // more than half of it is: a name in an italic heading is set upright
	Sideways    bool
	Hidden      bool // most of it cannot be seen in print

	Text      string        // set by repair
	Marks     []ingest.Mark // spans of text
	Cells     []ingest.Cell // spans of text; one for a line without gaps
	Furniture bool          // no part of the text: a running head or foot, the number of a line, what is not to be seen
}

// Distances in font sizes that make strips. Common practice, tuned on typeset
// articles.
const (
	sameBase  = 0.25 // baselines closer than this are one
	scriptMax = 0.75 // a smaller character this far off the baseline is a script
	scriptFit = 0.88 // and is at most this much of the line's size
	backMax   = 1.0  // the pen may step back this far, for accents and kerning
	CellGap   = 1.6  // a gap wider than this separates table cells
	ascent    = 0.7  // how far type reaches above its baseline, and below it: a line
	descent   = 0.2  // of small letters has a script above all its ink
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

// Of cuts the characters of a page into strips, in the order of the file.
func Of(p *pdf.Page, advance bool) []*Strip {
	usual := spaceInk
	if advance {
		usual = spaceAdvance
	}
	var out []*Strip
	var cur *Strip
	// All glyphs of a page lie in one piece of memory, strip behind strip.
	room := make([]Glyph, 0, len(p.Chars)+len(p.Chars)/8)
	before, accented := gap{least: usual}, false
	for i := range p.Chars {
		c := &p.Chars[i]
		if !placed(c) || offPage(c, p) {
			continue
		}
		if blank(p.Chars, i) {
			if c.Flags&pdf.Generated != 0 && (c.Rune != ' ' || accented) {
				before.least = min(before.least, spaceLineEnd)
			} else {
				before.least = anyGap
			}
			before.thin = before.thin || number.IsThin(c.Rune)
			continue
		}
		g := newGlyph(c)
		if cur == nil || !cur.Takes(&g) {
			room = cur.close(room)
			cur = &Strip{Glyphs: room}
			out = append(out, cur)
		}
		accented = cur.add(g, before)
		before = gap{least: usual}
	}
	cur.close(room)
	for _, s := range out {
		s.settle()
	}
	return takeStrays(out)
}

// close ends a strip that was written into the room given, and returns the
// room behind it.
func (s *Strip) close(room []Glyph) []Glyph {
	if s == nil {
		return room
	}
	n := len(s.Glyphs)
	s.Glyphs = s.Glyphs[:n:n]
	if n > cap(room) {
		return nil // it outgrew the room, and so has memory of its own
	}
	return room[n:n]
}

// gap is what is known of the room before a character: from what width on, in
// sizes, it is a space, and whether that is a thin one.
type gap struct {
	least float64
	thin  bool
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

// offPage reports whether a character stands where the page does not reach.
func offPage(c *pdf.Char, p *pdf.Page) bool {
	return p.Width > 0 && p.Height > 0 && (c.Right < 0 || c.Left > p.Width || c.Bottom < 0 || c.Top > p.Height)
}

// InkedCode is added to the code of a character that is none of the spaces
// whose code it has.
const InkedCode = '\uE000'

func newGlyph(c *pdf.Char) Glyph {
	g := Glyph{
		Rune: letter.Plain(c.Rune), X0: float64(c.Left), X1: float64(c.Right), top: float64(c.Top), bottom: float64(c.Bottom),
		base: float64(c.Origin), size: float64(c.Size),
		Bold: c.Weight >= 600, Italic: c.Flags&pdf.Italic != 0, Coded: c.Flags&pdf.MapError != 0, hyphen: c.Flags&pdf.Hyphen != 0,
		sideways: c.Flags&pdf.Sideways != 0, Hidden: c.Flags&pdf.Hidden != 0, unsure: c.Flags&pdf.Unsure != 0, signs: c.Flags&pdf.Signs != 0,
	}
	if g.Rune == ' ' || g.Rune == '\t' {
		g.Rune += InkedCode // an unmapped glyph with ink under a space's code
	}
	if g.size < 0.1 {
		g.size = max(g.bottom-g.top, 1)
	}
	return g
}

// Takes reports whether g goes on where the strip ends.
func (s *Strip) Takes(g *Glyph) bool {
	last := &s.Glyphs[len(s.Glyphs)-1]
	if g.sideways != s.Sideways || g.Hidden != last.Hidden {
		return false
	}
	if s.Sideways {
		return s.takesSideways(g, last)
	}
	size := max(s.Size, g.size)
	if (combining(g.Rune) != 0 || s.dotAbove(g)) && s.under(g) >= 0 {
		return true
	}
	gap := g.X0 - s.X1
	if gap < -backMax*size {
		return false
	}
	rise := math.Abs(g.base - s.Base)
	if rise <= sameBase*size {
		return true
	}
	return rise <= scriptMax*size && (g.size <= scriptFit*s.Size || s.Size <= scriptFit*g.size || gap < 0.3*size) &&
		g.top < max(s.bottom, s.Base+descent*s.Size) && g.bottom > min(s.Top, s.Base-ascent*s.Size)
}

// takesSideways follows lettering that runs up or down the page.
func (s *Strip) takesSideways(g, last *Glyph) bool {
	dx, dy := g.X0-last.X0, g.top-last.top
	return math.Hypot(dx, dy) < 3*max(g.size, last.size)
}

// add puts g at the end of the strip, with a space before it where the gap is one.
// It reports whether g went upon a letter.
func (s *Strip) add(g Glyph, before gap) (accent bool) {
	n := len(s.Glyphs)
	if n == 0 {
		s.X0, s.X1, s.Top, s.bottom = g.X0, g.X1, g.top, g.bottom
		s.Base, s.Size, s.Sideways = g.base, g.size, g.sideways
		s.Glyphs = append(s.Glyphs, g)
		return false
	}
	if s.accent(g) {
		return true
	}
	last := s.Glyphs[n-1]
	wide, size := g.X0-s.X1, min(last.size, g.size)
	blank := Glyph{Rune: ' ', X0: s.X1, X1: g.X0, base: s.Base, size: s.Size, Bold: last.Bold, Italic: last.Italic, thin: before.thin}
	switch {
	case !s.Sideways && wide > CellGap*max(last.size, g.size):
		blank.Rune = '\t'
		s.Glyphs = append(s.Glyphs, blank)
	case before.least == anyGap || wide > before.least*size && !s.Sideways:
		s.Glyphs = append(s.Glyphs, blank)
	}
	s.Glyphs = append(s.Glyphs, g)
	s.X0, s.X1 = min(s.X0, g.X0), max(s.X1, g.X1)
	s.Top, s.bottom = min(s.Top, g.top), max(s.bottom, g.bottom)
	if g.size > 1.12*s.Size {
		// The strip began with a script; this is the line proper.
		s.Base, s.Size = g.base, g.size
	}
	return false
}

// settle finds the baseline and size of most of the strip, and from them its
// raised and lowered characters.
func (s *Strip) settle() {
	sizes, bases := make([]float64, 0, len(s.Glyphs)), make([]float64, 0, len(s.Glyphs))
	bold, italic, hid, inked := 0, 0, 0, 0
	for i := range s.Glyphs {
		g := &s.Glyphs[i]
		if g.Rune == ' ' || g.Rune == '\t' {
			continue
		}
		inked++
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
	sort(sizes)
	// The upper quartile: a line may be mostly scripts, but not its largest type.
	s.Size = sizes[len(sizes)*3/4]
	for i := range s.Glyphs {
		if g := &s.Glyphs[i]; g.Rune != ' ' && g.Rune != '\t' && g.size >= 0.9*s.Size {
			bases = append(bases, g.base)
		}
	}
	sort(bases)
	s.Base = bases[len(bases)/2]
	s.Bold, s.Italic, s.Hidden = 10*bold >= 9*inked, 2*italic > inked, 2*hid > inked
	if s.Sideways {
		return
	}
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

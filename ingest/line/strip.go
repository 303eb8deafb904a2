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

	"hatchlore/ingest"
	"hatchlore/ingest/number"
	"hatchlore/ingest/pdf"
)

// Strip is a printed line: glyphs on one baseline that follow one another both
// in the file and on the page. A line of text is one strip; so is a table row.
type Strip struct {
	Glyphs      []Glyph
	X0, X1      float64
	Top, bottom float64
	Base, Size  float64
	Bold        bool
	Italic      bool // half of it is or more: a name in an italic heading is set upright
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

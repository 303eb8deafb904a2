package line

import (
	"unicode"

	"hatchlore/ingest/letter"
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

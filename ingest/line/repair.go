package line

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/ingest"
	"hatchlore/ingest/number"
)

// Repair turns the strip's glyphs into text, marks and cells. Every change that
// alters meaning leaves a mark; spelling variants of one sign (ligatures, µ and
// μ, look-alike degree signs) do not.
//
// Where a whole font lacks a character map, codes says whether its codes read
// as language all the same; its numbers are then inferred, else untrusted.
func (s *Strip) Repair(codes Codes) {
	w := lineWriter{glyphs: s.Glyphs, codes: codes, size: s.Size}
	w.b.Grow(len(s.Glyphs) + 8)
	for i := range s.Glyphs {
		w.glyph(i)
	}
	w.endCell()
	s.Text = w.b.String()
	s.Marks = append(w.marks, w.codedNumbers(s.Text)...)
	s.Marks = append(s.Marks, w.unsureNumbers(s.Text)...)
	s.Marks = append(s.Marks, number.At(s.Text, w.split, ingest.Untrusted)...)
	s.Marks = append(s.Marks, number.Untrusted(s.Text, s.Marks)...)
	s.Cells = w.cells
	unglue(s)
}

// lineWriter writes one strip.
type lineWriter struct {
	glyphs []Glyph
	b      strings.Builder
	marks  []ingest.Mark
	cells  []ingest.Cell
	cell   int // where the cell under way starts
	codes  Codes
	size   float64
	index  bool  // the last lowered digit was written as such
	split  []int // where digits stand that are parted by less than a space
	digits []int // where unmapped codes of digits stand
	unsure []int // where characters stand that were read from a picture unsurely
}

func (w *lineWriter) glyph(i int) {
	g := &w.glyphs[i]
	if g.unsure {
		w.unsure = append(w.unsure, w.b.Len())
	}
	switch {
	case g.Rune == '\t':
		w.endCell()
		w.b.WriteByte('\t')
		w.cell = w.b.Len()
	case g.Rune == ' ':
		w.space(i)
	case g.Rune == '\u00AD' || g.hyphen && (g.Rune < 0x20 || isHyphen(g.Rune)):
		// Inside a word a soft hyphen shows nothing; at a line's end, and beside
		// a digit, it is a hyphen that the font has under that name.
		if g.Rune != '\u00AD' || i == len(w.glyphs)-1 || w.digitAt(i-1) || w.digitAt(i+1) {
			w.b.WriteByte('-')
		}
	case g.mended != 0:
		w.infer(ligature(g.mended), rawOf(g))
	case w.isDegree(i):
		w.infer("°", rawOf(g))
	case w.isEquals(i):
		w.infer("=", rawOf(g))
	case g.signs && signOf(g.Rune) != 0:
		w.infer(string(signOf(g.Rune)), rawOf(g))
	case g.Coded:
		w.coded(i)
	case g.script > 0 && number.Superscript(g.Rune) != 0:
		w.b.WriteRune(number.Superscript(g.Rune))
	case g.script < 0 && w.lowered(i):
	default:
		w.plain(g)
	}
}

func isHyphen(r rune) bool { return r == '-' || r == '\u2010' || r == '\u2011' }

func (w *lineWriter) endCell() { w.cells = append(w.cells, ingest.Cell{Start: w.cell, End: w.b.Len()}) }

func (w *lineWriter) infer(s, raw string) {
	start := w.b.Len()
	w.b.WriteString(s)
	w.marks = append(w.marks, ingest.Mark{Start: start, End: w.b.Len(), Kind: ingest.Inferred, Raw: raw})
}

func rawOf(g *Glyph) string { return string(g.Rune) }

// isDegree reports whether the glyph stands where only a degree sign can: after
// a number and before a C or F that ends there. It must be unmapped, or a
// raised small o or 0, as old typesetters made it.
func (w *lineWriter) isDegree(i int) bool {
	g := &w.glyphs[i]
	raisedO := g.script > 0 && (g.Rune == 'o' || g.Rune == 'O' || g.Rune == '0')
	unmapped := g.Coded && !unicode.IsLetter(g.Rune) && !unicode.IsDigit(g.Rune)
	if !raisedO && !unmapped && !symbolDegree(g.Rune) {
		return false
	}
	before := w.skip(i, -1)
	after := w.skip(i, 1)
	if before < 0 || after < 0 || !unicode.IsDigit(w.glyphs[before].Rune) {
		return false
	}
	c := w.glyphs[after]
	if c.Rune != 'C' && c.Rune != 'F' || c.script > 0 {
		return false
	}
	return after+1 == len(w.glyphs) || !unicode.IsLetter(w.glyphs[after+1].Rune) && !unicode.IsDigit(w.glyphs[after+1].Rune)
}

// isEquals reports whether a quarter sign stands between a quantity's letter and
// a number, apart from both: some typesetters' fonts have the equals sign under
// that name.
func (w *lineWriter) isEquals(i int) bool {
	if w.glyphs[i].Rune != '¼' || i < 2 || i+2 >= len(w.glyphs) || w.glyphs[i-1].Rune != ' ' || w.glyphs[i+1].Rune != ' ' {
		return false
	}
	before := w.glyphs[i-2]
	return before.script != 0 || unicode.IsLetter(before.Rune) || before.Rune == ')' || before.Rune == 'Þ'
}

// skip returns the nearest glyph before or after i, past one space, -1 for none.
func (w *lineWriter) skip(i, step int) int {
	j := i + step
	if j >= 0 && j < len(w.glyphs) && w.glyphs[j].Rune == ' ' {
		j += step
	}
	if j < 0 || j >= len(w.glyphs) {
		return -1
	}
	return j
}

// plain writes a mapped character in its usual spelling.
func (w *lineWriter) plain(g *Glyph) {
	r := g.Rune
	if r >= ' ' && r < 0x7F {
		w.b.WriteByte(byte(r))
		return
	}
	if s := ligature(r); s != "" {
		w.b.WriteString(s)
		return
	}
	if s := symbolFont(r); s != 0 {
		w.infer(string(s), rawOf(g))
		return
	}
	switch r {
	case 'μ':
		r = 'µ'
	case '˚', 'º', '◦', '∘', '⁰':
		r = w.degreeLike(r)
	case '\u2011', '\u2010':
		r = '-'
	}
	if r < 0x20 || r == 0x7F || !utf8.ValidRune(r) || unicode.Is(unicode.Co, r) {
		r = ingest.Lost
	}
	w.b.WriteRune(r)
}

// degreeLike makes one sign of the degree's look-alikes where they follow a
// digit; elsewhere a º may be an ordinal.
func (w *lineWriter) degreeLike(r rune) rune {
	if r == '˚' {
		return '°'
	}
	text := strings.TrimRight(w.b.String(), " ")
	if text != "" && text[len(text)-1] >= '0' && text[len(text)-1] <= '9' {
		return '°'
	}
	return r
}

// unsureNumbers marks the numbers of which the program that read the picture
// was not sure.
func (w *lineWriter) unsureNumbers(text string) []ingest.Mark {
	return number.At(text, w.unsure, ingest.Suspect)
}

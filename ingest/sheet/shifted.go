package sheet

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/ingest/language"
	"hatchlore/ingest/line"
)

// glyphShift is what parts a character's code from its glyph's number in fonts
// whose glyphs stand in the order of ASCII behind one for what is missing, as
// OpenType fonts mostly have them: the space, 32, is glyph 1. Where a file gives
// such numbers without a character map, they can be turned back.
const glyphShift = 31

// How sure it must be that codes are glyph numbers: so many words of at least
// four letters, and this share of them in the words that the paper prints
// elsewhere.
const (
	shiftedWords = 30
	shiftedShare = 0.3
)

// unshiftCodes turns glyph numbers on pages without a character map back into
// characters, where the paper's own words bear it out.
func unshiftCodes(sheets []*Sheet) {
	var coded []*Sheet
	for _, sh := range sheets {
		if sh.Census().IsCoded() {
			coded = append(coded, sh)
		}
	}
	if len(coded) == 0 {
		return
	}
	known := map[string]bool{}
	for _, sh := range sheets {
		for _, s := range sh.Strips {
			if !s.Coded() {
				for _, w := range language.Words(line.Spell(s.Glyphs)) {
					known[w] = true
				}
			}
		}
	}
	for _, sh := range coded {
		if sh.reads(known) {
			sh.unshift()
		}
	}
}

// reads reports whether the page's codes, taken for glyph numbers, spell words
// that are known.
func (p *Sheet) reads(known map[string]bool) bool {
	var b strings.Builder
	for _, s := range p.Strips {
		for i := range s.Glyphs {
			if r := unshifted(&s.Glyphs[i]); r != 0 {
				b.WriteRune(r)
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteByte(' ')
	}
	words, found := 0, 0
	for _, w := range language.Words(b.String()) {
		if utf8.RuneCountInString(w) < 4 {
			continue
		}
		words++
		if known[w] {
			found++
		}
	}
	return words >= shiftedWords && float64(found) >= shiftedShare*float64(words)
}

// unshifted returns the character of a glyph number, 0 where there is none.
func unshifted(g *line.Glyph) rune {
	number := g.Rune
	if number >= line.InkedCode {
		number -= line.InkedCode
	}
	if r := number + glyphShift; g.Coded && r > ' ' && r < 0x7F {
		return r
	}
	return 0
}

// unshift turns the page's glyph numbers back. They stay marked as without a map.
func (p *Sheet) unshift() {
	p.Unshifted = true
	for _, s := range p.Strips {
		for i := range s.Glyphs {
			g := &s.Glyphs[i]
			if r := unshifted(g); r != 0 {
				g.Rune = r
			} else if g.Coded && !unicode.IsSpace(g.Rune) {
				g.Rune = 0x7F // beyond ASCII: lost
			}
		}
	}
}

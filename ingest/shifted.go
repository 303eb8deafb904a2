package ingest

import (
	"strings"
	"unicode"
	"unicode/utf8"
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

// unshift turns glyph numbers on pages without a character map back into
// characters, where the paper's own words bear it out.
func (p *paper) unshift() {
	var coded []*sheet
	for _, sh := range p.sheets {
		if inked, n, _, _ := sh.census(); float64(n) > codedShare*float64(inked) {
			coded = append(coded, sh)
		}
	}
	if len(coded) == 0 {
		return
	}
	known := map[string]bool{}
	for _, sh := range p.sheets {
		for _, s := range sh.strips {
			if !s.coded() {
				for _, w := range lowerWords(runes(s.glyphs)) {
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
func (p *sheet) reads(known map[string]bool) bool {
	var b strings.Builder
	for _, s := range p.strips {
		for i := range s.glyphs {
			if r := s.glyphs[i].unshifted(); r != 0 {
				b.WriteRune(r)
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteByte(' ')
	}
	words, found := 0, 0
	for _, w := range lowerWords(b.String()) {
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
func (g *glyph) unshifted() rune {
	number := g.r
	if number >= inkedCode {
		number -= inkedCode
	}
	if r := number + glyphShift; g.coded && r > ' ' && r < 0x7F {
		return r
	}
	return 0
}

// unshift turns the page's glyph numbers back. They stay marked as without a map.
func (p *sheet) unshift() {
	p.unshifted = true
	for _, s := range p.strips {
		for i := range s.glyphs {
			g := &s.glyphs[i]
			if r := g.unshifted(); r != 0 {
				g.r = r
			} else if g.coded && !unicode.IsSpace(g.r) {
				g.r = 0x7F // beyond ASCII: lost
			}
		}
	}
}

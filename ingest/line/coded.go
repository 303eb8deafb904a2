package line

import (
	"unicode"

	"hatchlore/ingest"
	"hatchlore/ingest/number"
)

// Codes says what the codes of characters without a map are worth.
type Codes int

const (
	CodesMeanNothing Codes = iota
	CodesRead              // they read as language: the font is plain text under another name
)

// coded writes a character that the font does not map. Codes that look like
// letters are kept: they may be the letters, and else are plain gibberish, which
// the page's verdict reports. Any other code is lost, unless the whole
// neighbourhood is coded and gibberish, where nothing hangs on it.
func (w *lineWriter) coded(i int) {
	g := &w.glyphs[i]
	if g.Rune > 0x20 && g.Rune < 0x7F || unicode.IsLetter(g.Rune) {
		if g.Rune >= '0' && g.Rune <= '9' {
			w.digits = append(w.digits, w.b.Len())
		}
		w.plain(g)
		return
	}
	if w.codes == CodesMeanNothing {
		if !w.codedBeside(i) {
			w.b.WriteRune(ingest.Lost)
		}
		return
	}
	if lig := texLigature(g.Rune); lig != "" && w.letterBeside(i) {
		w.infer(lig, rawOf(g))
		return
	}
	w.b.WriteRune(ingest.Lost)
}

func (w *lineWriter) letterBeside(i int) bool {
	return i > 0 && unicode.IsLetter(w.glyphs[i-1].Rune) || i+1 < len(w.glyphs) && unicode.IsLower(w.glyphs[i+1].Rune)
}

func (w *lineWriter) codedBeside(i int) bool {
	before := i > 0 && w.glyphs[i-1].Coded
	after := i+1 < len(w.glyphs) && w.glyphs[i+1].Coded
	return (before || i == 0) && (after || i+1 == len(w.glyphs)) && (before || after)
}

// codedNumbers marks the numbers with digits that the font does not map.
func (w *lineWriter) codedNumbers(text string) []ingest.Mark {
	if w.codes == CodesRead {
		return number.At(text, w.digits, ingest.Inferred)
	}
	return number.At(text, w.digits, ingest.Untrusted)
}

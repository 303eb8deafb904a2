package line

import (
	"hatchlore/ingest/number"
)

// digitAt reports whether the i-th glyph is a digit with a character map.
func (w *lineWriter) digitAt(i int) bool {
	return i >= 0 && i < len(w.glyphs) && w.glyphs[i].Rune >= '0' && w.glyphs[i].Rune <= '9' && !w.glyphs[i].Coded
}

// space writes the space at i. One that the file has thinner than others is kept as
// such between groups of digits. Any other that is narrower than a space between
// words may stand inside a number that was set wide.
func (w *lineWriter) space(i int) {
	g := &w.glyphs[i]
	between := w.digitAt(i-1) && w.digitAt(i+1) && w.glyphs[i-1].script == w.glyphs[i+1].script
	switch {
	case between && g.thin && w.digitAt(i+2) && w.digitAt(i+3) && !w.digitAt(i+4):
		w.b.WriteRune(number.ThinSpace)
		return
	case between && g.X1-g.X0 < splitGap*w.size:
		w.split = append(w.split, w.b.Len()-1, w.b.Len()+1)
	}
	w.b.WriteByte(' ')
}

// lowered writes the lowered glyph at i where it would run into a number: as a
// fraction's denominator or an index. Elsewhere (CO2) it stays as it is.
func (w *lineWriter) lowered(i int) bool {
	low := number.Subscript(w.glyphs[i].Rune)
	if low == 0 || i == 0 {
		return false
	}
	before := &w.glyphs[i-1]
	switch {
	case w.digitAt(i-1) && before.script < 0:
		if !w.index {
			return false
		}
	case isSlash(before.Rune) && i > 1 && w.glyphs[i-2].script > 0 && w.digitAt(i-2):
		if whole := w.fraction(i); whole != 0 {
			w.infer(string(whole), string([]rune{w.glyphs[i-2].Rune, before.Rune, w.glyphs[i].Rune}))
			return true
		}
	case w.digitAt(i - 1):
	default:
		w.index = false
		return false
	}
	w.b.WriteRune(low)
	w.index = true
	return true
}

func isSlash(r rune) bool { return r == '/' || r == '\u2044' || r == '\u2215' }

// fraction takes back the raised digit and the slash written before the lowered
// digit at i and returns the one sign for the three, 0 where there is none.
func (w *lineWriter) fraction(i int) rune {
	if i > 2 && w.digitAt(i-3) && w.glyphs[i-3].script > 0 || w.digitAt(i+1) && w.glyphs[i+1].script < 0 {
		return 0 // of more than one digit
	}
	whole := number.Fraction(w.glyphs[i-2].Rune, w.glyphs[i].Rune)
	if whole == 0 {
		return 0
	}
	raised, slash := number.Superscript(w.glyphs[i-2].Rune), w.glyphs[i-1].Rune
	text := w.b.String()
	cut := len(text) - len(string(raised)) - len(string(slash))
	w.b.Reset()
	w.b.WriteString(text[:cut])
	return whole
}

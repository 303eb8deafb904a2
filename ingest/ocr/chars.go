package ocr

import (
	"slices"
	"unicode/utf8"

	"hatchlore/ingest/pdf"
)

// pointsPerInch is the PDF unit (ISO 32000-1, 8.3.2.3: 1/72 inch).
const pointsPerInch = 72

// Chars lays words out as characters in points, a generated blank between
// words of a line and a generated line end between lines, so that the rest of
// the reader need not know that they come from a picture. A word's width is
// shared among its characters evenly; tesseract tells no more.
func Chars(words []Word, dpi int) []pdf.Char {
	scale := pointsPerInch / float32(dpi)
	var out []pdf.Char
	heights := lineHeights(words)
	for i, w := range words {
		if i > 0 {
			gap := ' '
			if w.Line != words[i-1].Line {
				gap = '\n'
			}
			out = append(out, blankAfter(out[len(out)-1], gap))
		}
		out = append(out, wordChars(w, scale, heights[w.Line]*scale)...)
	}
	return out
}

func wordChars(w Word, scale, size float32) []pdf.Char {
	n := utf8.RuneCountInString(w.Text)
	step := float32(w.Right-w.Left) / float32(n)
	chars := make([]pdf.Char, 0, n)
	for _, r := range w.Text {
		left := float32(w.Left) + step*float32(len(chars))
		chars = append(chars, pdf.Char{
			Rune: r, Size: size,
			Left: left * scale, Right: (left + step) * scale,
			Top: float32(w.Top) * scale, Bottom: float32(w.Bottom) * scale,
			Origin: float32(w.Bottom) * scale,
		})
	}
	return chars
}

func blankAfter(c pdf.Char, r rune) pdf.Char {
	c.Rune, c.Flags, c.Left = r, pdf.Generated, c.Right
	return c
}

// lineHeights returns the median height of each line's words in pixels: the
// box of a single word depends on which letters it has.
func lineHeights(words []Word) map[int]float32 {
	all := map[int][]int{}
	for _, w := range words {
		all[w.Line] = append(all[w.Line], w.Bottom-w.Top)
	}
	median := map[int]float32{}
	for line, hs := range all {
		slices.Sort(hs)
		median[line] = float32(hs[len(hs)/2])
	}
	return median
}

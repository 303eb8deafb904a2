// Package sheet shows a page of a paper as it was printed: its picture, kept
// on disk once drawn, and where on it a stretch of its text stands.
//
// It refuses to keep more pictures than it was given room for, and to show one
// that was damaged there.
package sheet

import (
	"strings"
	"unicode/utf8"

	"hatchlore/ingest"
)

// Box is a rectangle on a page, in points from its upper left corner.
type Box struct{ Left, Top, Width, Height float64 }

// Stretch is a piece of a page's text in bytes.
type Stretch struct{ Start, End int }

// Bytes turns a stretch in code points, as claims count, into bytes of text.
func Bytes(text string, start, end int) Stretch {
	n, out := 0, Stretch{len(text), len(text)}
	for at := range text {
		if n == start {
			out.Start = at
		}
		if n == end {
			out.End = at
			break
		}
		n++
	}
	return out
}

// Above and below the baseline, a line of type takes these shares of its size.
const (
	ascent  = 0.82
	descent = 0.26
)

// Boxes returns where a stretch stands on its page, a box a line; none for a
// page without geometry. Within a line the place follows from the widths of
// common type, which is some tenths of a letter off. Of a row of a table the
// whole row is taken: the gaps between cells are not known.
func Boxes(p ingest.Page, s Stretch) []Box {
	var out []Box
	for _, l := range p.Lines {
		start, end := max(s.Start, l.Start), min(s.End, l.End)
		if start >= end || l.Width <= 0 || l.End > len(p.Text) {
			continue
		}
		line := p.Text[l.Start:l.End]
		left, right := 0.0, 1.0
		if !strings.ContainsRune(line, '\t') {
			total := extent(line)
			left = extent(p.Text[l.Start:start]) / total
			right = extent(p.Text[l.Start:end]) / total
		}
		out = append(out, Box{
			Left: l.X + left*l.Width, Width: (right - left) * l.Width,
			Top: l.Y - ascent*l.Size, Height: (ascent + descent) * l.Size,
		})
	}
	return out
}

// extent is the width of text in a common text face, in no unit: only shares
// of a line are taken. The widths are rounded from the metrics that standard
// text faces of PDF share to a few hundredths of an em (ISO 32000-1, 9.6.2.2).
func extent(text string) (sum float64) {
	for _, r := range text {
		sum += width(r)
	}
	return sum
}

func width(r rune) float64 {
	switch {
	case strings.ContainsRune("iljt.,;:'’|!ftI()[]·", r):
		return 0.3
	case r == ' ':
		return 0.27
	case strings.ContainsRune("rs-‐–/\"“”", r):
		return 0.39
	case strings.ContainsRune("mwMW—%@", r):
		return 0.82
	case r >= 'A' && r <= 'Z':
		return 0.67
	case r < utf8.RuneSelf:
		return 0.48
	}
	return 0.5
}

// Piece is a run of a page's text, marked or not.
type Piece struct {
	Text   string
	Marked bool
	First  bool // the first of the marked ones
}

// Pieces cuts text at stretches, which are in order and do not overlap.
func Pieces(text string, marks []Stretch) []Piece {
	var out []Piece
	at, first := 0, true
	for _, m := range marks {
		if m.Start < at || m.End > len(text) || m.Start >= m.End {
			continue
		}
		if m.Start > at {
			out = append(out, Piece{Text: text[at:m.Start]})
		}
		out = append(out, Piece{text[m.Start:m.End], true, first})
		at, first = m.End, false
	}
	if at < len(text) {
		out = append(out, Piece{Text: text[at:]})
	}
	return out
}

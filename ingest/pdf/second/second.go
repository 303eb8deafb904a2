// Package second reads PDFs with ledongthuc/pdf, a reader of other descent
// than pdfium: what both print was hardly misread, and it opens some files that
// pdfium refuses.
//
// It refuses to be trusted with files of strangers: ledongthuc/pdf hangs or
// takes all memory on some. Whoever reads such runs it in a process of its own.
package second

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	ledongthuc "github.com/ledongthuc/pdf"

	"hatchlore/ingest/pdf"
)

// File is an open file, always read by its characters' places: measured on
// articles, the library's plain mode finds a quarter of the words and its row
// mode merges columns. It panics on some damaged files; each call recovers.
type File struct{ r *ledongthuc.Reader }

var errPanic = errors.New("the second reader gave up")

// guard turns a panic of the library, which reports damage so, into an error.
func guard(err *error) {
	if p := recover(); p != nil {
		*err = fmt.Errorf("%w: %v", errPanic, p)
	}
}

// Open opens a file.
func Open(data []byte) (s File, err error) {
	defer guard(&err)
	r, err := ledongthuc.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return File{}, err
	}
	return File{r}, nil
}

// Pages returns how many pages the file says that it has.
func (s File) Pages() (n int, err error) {
	defer guard(&err)
	return s.r.NumPage(), nil
}

// glyph is one positioned character of the second reader, from the lower left.
type glyph struct {
	rune          rune
	x, y, w, size float64
	bold, italic  bool
}

// paper finds the page's size, which it may inherit; a damaged chain of parents
// may be a ring. US Letter stands in where the file names no size.
func paper(v ledongthuc.Value) (width, height float64) {
	for range 32 {
		if box := v.Key("MediaBox"); box.Len() == 4 {
			return box.Index(2).Float64() - box.Index(0).Float64(), box.Index(3).Float64() - box.Index(1).Float64()
		}
		v = v.Key("Parent")
	}
	return 612, 792
}

func (s File) glyphs(number int) (out []glyph, width, height float64, err error) {
	defer guard(&err)
	page := s.r.Page(number)
	if page.V.IsNull() {
		return nil, 0, 0, fmt.Errorf("page %d is missing", number)
	}
	width, height = paper(page.V)
	return newContent(page).read(), width, height, nil
}

// Page reads a page as characters, in the order of the file.
func (s File) Page(number int) pdf.Page {
	out := pdf.Page{Number: number}
	glyphs, w, h, err := s.glyphs(number)
	if err != nil {
		out.Err = "the page is damaged"
		return out
	}
	out.Width, out.Height = float32(w), float32(h)
	for _, g := range glyphs {
		c := pdf.Char{Rune: g.rune, Left: float32(g.x), Right: float32(g.x + g.w), Size: float32(g.size)}
		c.Origin = float32(h - g.y)
		c.Top, c.Bottom = c.Origin-float32(0.7*g.size), c.Origin+float32(0.2*g.size)
		if g.bold {
			c.Weight = 700
		}
		if g.italic {
			c.Flags |= pdf.Italic
		}
		out.Chars = append(out.Chars, c)
	}
	return out
}

// Text puts the glyphs of a page together for a second look at its numbers:
// lines from the top, spaces where the pen jumps.
func (s File) Text(number int) (string, error) {
	glyphs, _, _, err := s.glyphs(number)
	if err != nil {
		return "", err
	}
	slices.SortStableFunc(glyphs, func(a, b glyph) int { return cmp.Compare(b.y, a.y) })
	var lines [][]glyph
	for _, g := range glyphs {
		if n := len(lines); n > 0 && lines[n-1][0].y-g.y < 0.3*max(g.size, 1) {
			lines[n-1] = append(lines[n-1], g)
			continue
		}
		lines = append(lines, []glyph{g})
	}
	var b strings.Builder
	for _, line := range lines {
		slices.SortStableFunc(line, func(a, b glyph) int { return cmp.Compare(a.x, b.x) })
		for i, g := range line {
			if i > 0 && g.x-(line[i-1].x+line[i-1].w) > 0.15*max(g.size, 1) {
				b.WriteByte(' ')
			}
			b.WriteRune(g.rune)
		}
		b.WriteByte('\n')
	}
	return b.String(), nil
}

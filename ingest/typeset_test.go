package ingest

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"hatchlore/ingest/pdf"
)

// setter sets characters on a page as a typesetter would: every one half its
// size wide, spaces put in by the engine.
type setter struct {
	page pdf.Page
	flag pdf.Flag
	bold bool
}

func newSetter() *setter {
	return &setter{page: pdf.Page{Number: 1, Width: 600, Height: 800}}
}

// at sets text with its baseline at y and returns where it ends. \x01 to \x1f
// stand for characters that the font does not map.
func (s *setter) at(x, y, size float32, text string) float32 {
	for _, r := range text {
		c := pdf.Char{Rune: r, Left: x, Right: x + size/2, Top: y - 0.7*size, Bottom: y, Origin: y, Size: size, Weight: 400, Flags: s.flag}
		if s.bold {
			c.Weight = 700
		}
		switch {
		case r == ' ':
			c.Flags |= pdf.Generated
			c.Left = c.Right
		case r < 0x20:
			c.Flags |= pdf.MapError
		}
		s.page.Chars = append(s.page.Chars, c)
		x += size / 2
	}
	return x
}

// lines sets lines of text down a column and returns the baseline after them.
func (s *setter) lines(x, y, size float32, lines ...string) float32 {
	for _, l := range lines {
		s.at(x, y, size, l)
		y += 1.2 * size
	}
	return y
}

// assemble reads pages and checks what must hold for every document.
func assemble(t *testing.T, setters ...*setter) *Document {
	t.Helper()
	f := &pdf.File{Engine: "pdfium"}
	for i, s := range setters {
		s.page.Number = i + 1
		f.Pages = append(f.Pages, s.page)
	}
	d := Assemble("paper.pdf", "hash", f)
	sound(t, d)
	return d
}

// sound checks the promises of a document: spans inside the text and in order,
// lines that hold all of the text but its gaps, cells inside their table.
func sound(t *testing.T, d *Document) {
	t.Helper()
	for i, p := range d.Pages {
		if p.Number != i+1 {
			t.Errorf("page %d has number %d", i+1, p.Number)
		}
		if !utf8.ValidString(p.Text) {
			t.Errorf("page %d: text is not UTF-8", p.Number)
		}
		at := 0
		for _, l := range p.Lines {
			if l.Start < at || l.End < l.Start || l.End > len(p.Text) {
				t.Fatalf("page %d: line %d to %d after %d, of %d", p.Number, l.Start, l.End, at, len(p.Text))
			}
			if gap := p.Text[at:l.Start]; strings.Trim(gap, " \n\t") != "" {
				t.Errorf("page %d: text %q is in no line", p.Number, gap)
			}
			at = l.End
		}
		if rest := p.Text[at:]; strings.Trim(rest, " \n\t") != "" {
			t.Errorf("page %d: text %q is in no line", p.Number, rest)
		}
		at = 0
		for _, b := range p.Blocks {
			if b.Start < at || b.End <= b.Start || b.End > len(p.Text) {
				t.Fatalf("page %d: block %d to %d after %d, of %d", p.Number, b.Start, b.End, at, len(p.Text))
			}
			at = b.End
			for _, r := range b.Rows {
				for _, c := range r.Cells {
					if c.Start < b.Start || c.End < c.Start || c.End > b.End {
						t.Errorf("page %d: cell %d to %d outside its table", p.Number, c.Start, c.End)
					}
				}
			}
		}
		for _, m := range p.Marks {
			if m.Start < 0 || m.End <= m.Start || m.End > len(p.Text) {
				t.Errorf("page %d: mark %d to %d, of %d", p.Number, m.Start, m.End, len(p.Text))
			}
		}
	}
}

// marks lists a page's marks as kind:text.
func marks(p Page) string {
	var out []string
	for _, m := range p.Marks {
		out = append(out, fmt.Sprintf("%s:%s", m.Kind, p.Text[m.Start:m.End]))
	}
	return strings.Join(out, " ")
}

// blocks lists a page's blocks as kind/section:text.
func blocks(p Page) []string {
	var out []string
	for _, b := range p.Blocks {
		out = append(out, fmt.Sprintf("%s/%s:%s", b.Kind, b.Section, p.Text[b.Start:b.End]))
	}
	return out
}

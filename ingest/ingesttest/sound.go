package ingesttest

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"hatchlore/ingest"
)

// Sound checks the promises of a document: spans inside the text and in order,
// lines that hold all of the text but its gaps, cells inside their table.
func Sound(t *testing.T, d *ingest.Document) {
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

// Marks lists a page's marks as kind:text.
func Marks(p ingest.Page) string {
	var out []string
	for _, m := range p.Marks {
		out = append(out, fmt.Sprintf("%s:%s", m.Kind, p.Text[m.Start:m.End]))
	}
	return strings.Join(out, " ")
}

// Blocks lists a page's blocks as kind/section:text.
func Blocks(p ingest.Page) []string {
	var out []string
	for _, b := range p.Blocks {
		out = append(out, fmt.Sprintf("%s/%s:%s", b.Kind, b.Section, p.Text[b.Start:b.End]))
	}
	return out
}

// Rows prints the rows of a page's tables, ! before heads and a bar between cells.
func Rows(p ingest.Page) []string {
	var out []string
	for _, b := range p.Blocks {
		for _, r := range b.Rows {
			var cells []string
			for _, c := range r.Cells {
				cells = append(cells, p.Text[c.Start:c.End])
			}
			line := strings.Join(cells, "|")
			if r.Head {
				line = "!" + line
			}
			out = append(out, line)
		}
	}
	return out
}

// Kinds prints a page's blocks as kind:text.
func Kinds(p ingest.Page) []string {
	var out []string
	for _, b := range p.Blocks {
		out = append(out, string(b.Kind)+":"+p.Text[b.Start:b.End])
	}
	return out
}

// Package textfile reads papers that are text already: plain text, Markdown and
// HTML.
//
// It keeps what a reader of the page sees, and refuses to run, fetch or guess
// anything: scripts, styles and what they would add are left out.
package textfile

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"hatchlore/ingest"
	"hatchlore/ingest/charset"
	"hatchlore/ingest/heading"
	"hatchlore/ingest/language"
	"hatchlore/ingest/number"
)

// formats are the kinds of paper, as [ingest.Document] names them, by the endings of
// their files' names.
var formats = map[string]string{".txt": "txt", ".text": "txt", ".md": "md", ".markdown": "md", ".html": "html", ".htm": "html"}

// Format returns the kind of paper that a file is by the ending of its name: "txt",
// "md", "html", or "" for what this package does not read.
func Format(path string) string { return formats[strings.ToLower(filepath.Ext(path))] }

// Endings returns the endings that Format knows, sorted.
func Endings() []string { return slices.Sorted(maps.Keys(formats)) }

// Read reads a paper that is not a PDF. Form feeds part its pages. The error begins
// with the source.
func Read(source, hash string, data []byte) (*ingest.Document, error) {
	if len(data) == 0 {
		return nil, fmt.Errorf("%s is empty; copy it again from where it came", source)
	}
	d := &ingest.Document{Source: source, Hash: hash, Format: Format(source)}
	switch d.Format {
	case "txt":
		readPlain(d, charset.Text(data))
	case "md":
		readMarkdown(d, charset.Text(data))
	case "html":
		if err := readHTML(d, data); err != nil {
			return nil, fmt.Errorf("%s cannot be read as HTML: %w", source, err)
		}
	default:
		return nil, fmt.Errorf("%s is of a kind (%s) that cannot be read; ingest one of %s", source, filepath.Ext(source), strings.Join(Endings(), " "))
	}
	texts := make([]string, 0, len(d.Pages))
	for _, p := range d.Pages {
		texts = append(texts, p.Text)
	}
	d.Lang = language.Of(texts...)
	return d, nil
}

// draft builds a document out of blocks of text that have no geometry.
type draft struct {
	doc     *ingest.Document
	b       strings.Builder
	page    ingest.Page
	section ingest.Section
}

func newDraft(d *ingest.Document) *draft {
	return &draft{doc: d, page: ingest.Page{Number: 1, How: ingest.ByText}}
}

// block adds a block; its lines are joined with spaces, runs of space within
// them made one.
func (w *draft) block(kind ingest.BlockKind, lines ...string) {
	var kept []string
	for _, l := range lines {
		if l = spaced(l); l != "" {
			kept = append(kept, l)
		}
	}
	if len(kept) == 0 {
		return
	}
	kind = w.enter(kind, strings.Join(kept, " "))
	start := w.part()
	for i, l := range kept {
		if i > 0 {
			w.b.WriteByte(' ')
		}
		w.line(l)
	}
	w.page.Blocks = append(w.page.Blocks, ingest.Block{Kind: kind, Section: w.section, Start: start, End: w.b.Len()})
}

// enter follows the sections of the text and says what a block is.
func (w *draft) enter(kind ingest.BlockKind, text string) ingest.BlockKind {
	switch kind {
	case ingest.Title:
		if w.doc.Title == "" {
			w.doc.Title = text
		}
	case ingest.Heading:
		if s, ok := heading.Of(text); ok {
			w.section = s
		} else if w.section == ingest.SectionAbstract {
			w.section = ingest.SectionUnknown // an abstract has no other headings than named ones
		}
	case ingest.Paragraph:
		if s, ok := heading.Section(text); ok {
			w.section = s
			return ingest.Heading
		}
		if s, _, ok := heading.RunIn(text); ok {
			w.section = s
			return kind
		}
		if heading.IsCaption(text, false) {
			return ingest.Caption
		}
		if w.section == ingest.SectionReferences {
			return ingest.Reference
		}
	case ingest.ListItem:
		if w.section == ingest.SectionReferences {
			return ingest.Reference
		}
	}
	return kind
}

// cell is a cell of a table.
type cell struct {
	text   string
	beside bool // it is the one to its left, which stands over both columns
}

// table adds a table, a line a row and a tab between cells. Rows without a word
// are left out.
func (w *draft) table(all [][]cell, heads int) {
	var rows [][]cell
	for i, cells := range all {
		if slices.ContainsFunc(cells, func(c cell) bool { return spaced(c.text) != "" }) {
			rows = append(rows, cells)
		} else if i < heads {
			heads--
		}
	}
	if len(rows) == 0 {
		return
	}
	start := w.part()
	block := ingest.Block{Kind: ingest.Table, Section: w.section, Start: start}
	for i, cells := range rows {
		if i > 0 {
			w.b.WriteByte('\n')
		}
		block.Rows = append(block.Rows, ingest.Row{Head: i < heads, Cells: w.row(cells)})
	}
	block.End = w.b.Len()
	w.page.Blocks = append(w.page.Blocks, block)
}

// row writes one row of a table as a line.
func (w *draft) row(cells []cell) (out []ingest.Cell) {
	at := w.b.Len()
	var b strings.Builder
	for k, c := range cells {
		if c.beside && k > 0 {
			out = append(out, out[k-1])
			continue
		}
		if k > 0 {
			b.WriteByte('\t')
		}
		from := at + b.Len()
		b.WriteString(spaced(c.text))
		out = append(out, ingest.Cell{Start: from, End: at + b.Len()})
	}
	w.line(b.String())
	return out
}

func (w *draft) part() int {
	if w.b.Len() > 0 {
		w.b.WriteString("\n\n")
	}
	return w.b.Len()
}

func (w *draft) line(text string) {
	at := w.b.Len()
	w.b.WriteString(text)
	w.page.Lines = append(w.page.Lines, ingest.Line{Start: at, End: w.b.Len()})
	for _, m := range append(number.Untrusted(text, nil), number.Apart(text)...) {
		m.Start, m.End = m.Start+at, m.End+at
		w.page.Marks = append(w.page.Marks, m)
	}
}

// endPage closes the page and begins the next.
func (w *draft) endPage() {
	w.page.Text = w.b.String()
	if w.page.Text == "" {
		w.page.Why = ingest.WhyBlank
	}
	w.doc.Pages = append(w.doc.Pages, w.page)
	w.page = ingest.Page{Number: w.page.Number + 1, How: ingest.ByText}
	w.b.Reset()
}

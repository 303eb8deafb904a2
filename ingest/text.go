package ingest

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path/filepath"
	"strings"
)

// Hash returns the SHA-256 of a file's bytes in hex: what a paper is known by.
func Hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// ReadText reads a paper that is not a PDF, by the ending of its name: .txt
// (the first line is the title), .md, .html and .htm. Form feeds part pages.
func ReadText(source, hash string, data []byte) (*Document, error) {
	if len(data) == 0 {
		return nil, fmt.Errorf("%s is empty; copy it again from where it came", source)
	}
	d := &Document{Source: source, Hash: hash}
	switch ending := strings.ToLower(filepath.Ext(source)); ending {
	case ".txt":
		d.Format = "txt"
		readPlain(d, decode(data))
	case ".md":
		d.Format = "md"
		readMarkdown(d, decode(data))
	case ".html", ".htm":
		d.Format = "html"
		if err := readHTML(d, data); err != nil {
			return nil, fmt.Errorf("%s cannot be read as HTML: %w", source, err)
		}
	default:
		return nil, fmt.Errorf("%s is of a kind (%s) that cannot be read; ingest .pdf, .txt, .md or .html", source, ending)
	}
	d.Lang = language(d)
	return d, nil
}

// draft builds a document out of blocks of text that have no geometry.
type draft struct {
	doc     *Document
	b       strings.Builder
	page    Page
	section Section
}

func newDraft(d *Document) *draft {
	return &draft{doc: d, page: Page{Number: 1, How: ByText}}
}

// block adds a block; its lines are joined with spaces, runs of space within
// them made one.
func (w *draft) block(kind BlockKind, lines ...string) {
	var kept []string
	for _, l := range lines {
		if l = strings.Join(strings.Fields(l), " "); l != "" {
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
	w.page.Blocks = append(w.page.Blocks, Block{Kind: kind, Section: w.section, Start: start, End: w.b.Len()})
}

// enter follows the sections of the text and says what a block is.
func (w *draft) enter(kind BlockKind, text string) BlockKind {
	switch kind {
	case Title:
		if w.doc.Title == "" {
			w.doc.Title = text
		}
	case Heading:
		if s, ok := sectionOf(text); ok {
			w.section = s
		}
	case Paragraph:
		if s, ok := sectionOf(text); ok {
			w.section = s
			return Heading
		}
		if s, _, ok := runIn(text); ok {
			w.section = s
			return kind
		}
		if isCaption(text, false) {
			return Caption
		}
		if w.section == SectionReferences {
			return Reference
		}
	case ListItem:
		if w.section == SectionReferences {
			return Reference
		}
	}
	return kind
}

// table adds a table, a line a row and a tab between cells. Rows without a word
// are left out.
func (w *draft) table(all [][]string, heads int) {
	var rows [][]string
	for i, cells := range all {
		if strings.TrimSpace(strings.Join(cells, "")) != "" {
			rows = append(rows, cells)
		} else if i < heads {
			heads--
		}
	}
	if len(rows) == 0 {
		return
	}
	start := w.part()
	block := Block{Kind: Table, Section: w.section, Start: start}
	for i, cells := range rows {
		if i > 0 {
			w.b.WriteByte('\n')
		}
		at := w.b.Len()
		row := Row{Head: i < heads}
		for k, c := range cells {
			if k > 0 {
				w.b.WriteByte('\t')
			}
			from := w.b.Len()
			w.b.WriteString(strings.Join(strings.Fields(c), " "))
			row.Cells = append(row.Cells, Cell{from, w.b.Len()})
		}
		w.page.Lines = append(w.page.Lines, Line{Start: at, End: w.b.Len()})
		block.Rows = append(block.Rows, row)
	}
	block.End = w.b.Len()
	w.page.Blocks = append(w.page.Blocks, block)
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
	w.page.Lines = append(w.page.Lines, Line{Start: at, End: w.b.Len()})
	for _, m := range untrusted(text, nil) {
		m.Start, m.End = m.Start+at, m.End+at
		w.page.Marks = append(w.page.Marks, m)
	}
}

// endPage closes the page and begins the next.
func (w *draft) endPage() {
	w.page.Text = w.b.String()
	if w.page.Text == "" {
		w.page.Why = WhyBlank
	}
	w.doc.Pages = append(w.doc.Pages, w.page)
	w.page = Page{Number: w.page.Number + 1, How: ByText}
	w.b.Reset()
}

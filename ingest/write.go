package ingest

import (
	"strings"
)

// pageWriter puts the text of a page together and keeps the spans.
type pageWriter struct {
	b     strings.Builder
	vocab vocabulary
	page  Page
}

// chunk writes a block, parted from the one before by an empty line.
func (w *pageWriter) chunk(c *chunk) {
	w.part()
	start := w.b.Len()
	block := Block{Kind: c.kind, Section: c.section}
	if c.table != nil {
		block.Rows = w.table(c)
	} else {
		w.lines(c.strips)
	}
	block.Start, block.End = start, w.b.Len()
	if block.End > block.Start && block.Kind != "" {
		w.page.Blocks = append(w.page.Blocks, block)
	}
}

// outside writes lines that belong to no block: running heads and feet.
func (w *pageWriter) outside(s *strip) {
	w.part()
	w.lines([]*strip{s})
}

func (w *pageWriter) part() {
	if w.b.Len() > 0 {
		w.b.WriteString("\n\n")
	}
}

// lines writes the lines of a paragraph as one.
func (w *pageWriter) lines(strips []*strip) {
	for i, s := range strips {
		text := s.prose()
		cut := 0
		if i+1 < len(strips) && w.vocab.bondOf(text, strips[i+1].prose()) == byMerger {
			cut = 1 // the hyphen
		}
		w.line(s, text[:len(text)-cut])
		if i+1 < len(strips) && w.vocab.bondOf(text, strips[i+1].prose()) == bySpace {
			w.b.WriteByte(' ')
		}
	}
}

// prose returns the strip's text with cell gaps as spaces, so that spans hold.
func (s *strip) prose() string { return strings.ReplaceAll(s.text, "\t", " ") }

// line writes one line's text and moves its marks.
func (w *pageWriter) line(s *strip, text string) {
	at := w.b.Len()
	w.b.WriteString(text)
	w.page.Lines = append(w.page.Lines, Line{
		Start: at, End: w.b.Len(), X: s.x0, Y: s.base, Width: s.x1 - s.x0, Size: s.size, Bold: s.bold,
	})
	for _, m := range s.marks {
		m.Start += at
		m.End = min(m.End+at, w.b.Len())
		if m.End > m.Start {
			w.page.Marks = append(w.page.Marks, m)
		}
	}
}

// table writes rows as lines with a tab between cells.
func (w *pageWriter) table(c *chunk) []Row {
	rows := make([]Row, len(c.strips))
	for i, s := range c.strips {
		if i > 0 {
			w.b.WriteByte('\n')
		}
		at := w.b.Len()
		w.line(s, s.text)
		rows[i].Head = i < c.table.heads
		pos := at
		for _, r := range c.table.rows[i] {
			cell := Cell{pos, pos}
			if r.last > r.first {
				cell = Cell{at + s.cells[r.first].Start, at + s.cells[r.last-1].End}
			}
			pos = cell.End
			rows[i].Cells = append(rows[i].Cells, cell)
		}
	}
	return rows
}

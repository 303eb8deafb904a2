package layout

import (
	"strings"

	"hatchlore/ingest"
	"hatchlore/ingest/block"
	"hatchlore/ingest/line"
	"hatchlore/ingest/number"
	"hatchlore/ingest/prose"
)

// pageWriter puts the text of a page together and keeps the spans.
type pageWriter struct {
	b     strings.Builder
	vocab prose.Vocabulary
	page  ingest.Page
}

// chunk writes a block, parted from the one before by an empty line.
func (w *pageWriter) chunk(c *block.Chunk) {
	w.part()
	start := w.b.Len()
	block := ingest.Block{Kind: c.Kind, Section: c.Section}
	if c.Table != nil {
		block.Rows = w.table(c)
	} else {
		w.lines(c.Strips)
		for _, m := range number.Apart(w.b.String()[start:]) {
			m.Start, m.End = m.Start+start, m.End+start
			w.page.Marks = append(w.page.Marks, m)
		}
	}
	block.Start, block.End = start, w.b.Len()
	if block.End > block.Start && block.Kind != "" {
		w.page.Blocks = append(w.page.Blocks, block)
	}
}

// outside writes lines that belong to no block: running heads and feet.
func (w *pageWriter) outside(s *line.Strip) {
	w.part()
	w.lines([]*line.Strip{s})
}

func (w *pageWriter) part() {
	if w.b.Len() > 0 {
		w.b.WriteString("\n\n")
	}
}

// lines writes the lines of a paragraph as one.
func (w *pageWriter) lines(strips []*line.Strip) {
	for i, s := range strips {
		text, bond := s.Prose(), prose.BySticky
		if i+1 < len(strips) {
			bond = w.vocab.BondOf(text, strips[i+1].Prose())
		}
		if bond == prose.ByMerger {
			text = text[:len(text)-1] // the hyphen
		}
		w.line(s, text)
		if bond == prose.BySpace {
			w.b.WriteByte(' ')
		}
	}
}

// line writes one line's text and moves its marks.
func (w *pageWriter) line(s *line.Strip, text string) {
	at := w.b.Len()
	w.b.WriteString(text)
	w.page.Lines = append(w.page.Lines, ingest.Line{
		Start: at, End: w.b.Len(), X: s.X0, Y: s.Base, Width: s.X1 - s.X0, Size: s.Size, Bold: s.Bold,
	})
	for _, m := range s.Marks {
		m.Start += at
		m.End = min(m.End+at, w.b.Len())
		if m.End > m.Start {
			w.page.Marks = append(w.page.Marks, m)
		}
	}
}

// table writes rows as lines with a tab between cells.
func (w *pageWriter) table(c *block.Chunk) []ingest.Row {
	var rows []ingest.Row
	for i, s := range c.Strips {
		if i == c.Table.HeadRows && c.Table.Head != nil {
			w.rowEnd(rows)
			rows = append(rows, w.head(c.Table.Head))
		}
		w.rowEnd(rows)
		row := ingest.Row{Head: i < c.Table.HeadRows}
		at := w.b.Len()
		w.line(s, s.Text)
		pos := at
		for _, r := range c.Table.Rows[i] {
			cell := ingest.Cell{Start: pos, End: pos}
			if r.Last > r.First {
				cell = ingest.Cell{Start: at + s.Cells[r.First].Start, End: at + s.Cells[r.Last-1].End}
			}
			pos = cell.End
			row.Cells = append(row.Cells, cell)
		}
		rows = append(rows, row)
	}
	return rows
}

func (w *pageWriter) rowEnd(before []ingest.Row) {
	if len(before) > 0 {
		w.b.WriteByte('\n')
	}
}

// head writes heads of several lines as one row, each head put together.
func (w *pageWriter) head(columns [][]*line.Strip) ingest.Row {
	row := ingest.Row{Head: true}
	for k, lines := range columns {
		if k > 0 {
			w.b.WriteByte('\t')
		}
		at := w.b.Len()
		w.lines(lines)
		row.Cells = append(row.Cells, ingest.Cell{Start: at, End: w.b.Len()})
	}
	return row
}

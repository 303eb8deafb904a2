// Package block groups the lines of a page into headings, paragraphs, items,
// captions, tables, notes and references, and says in which section of the paper
// each stands.
//
// What is no sentence and no heading (the lettering of figures, numbers alone) gets
// no kind: block refuses to make text of it.
package block

import (
	"slices"
	"strings"
	"unicode"

	"hatchlore/ingest"
	"hatchlore/ingest/heading"
	"hatchlore/ingest/line"
	"hatchlore/ingest/prose"
	"hatchlore/ingest/sheet"
	"hatchlore/ingest/table"
)

// Chunk is a block on its way into the text.
type Chunk struct {
	Kind    ingest.BlockKind
	Section ingest.Section
	Strips  []*line.Strip
	Table   *table.Grid // of a table
}

// text returns the chunk's text roughly, for telling what it is.
func (c *Chunk) text() string {
	var b strings.Builder
	for i, s := range c.Strips {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(s.Text)
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func (c *Chunk) first() *line.Strip { return c.Strips[0] }
func (c *Chunk) last() *line.Strip  { return c.Strips[len(c.Strips)-1] }

// left returns the left edge of the chunk, its first line set aside when there
// are others.
func (c *Chunk) left() float64 {
	x := c.Strips[len(c.Strips)-1].X0
	for _, s := range c.Strips[1:] {
		x = min(x, s.X0)
	}
	return x
}

func (c *Chunk) bold() bool {
	return !slices.ContainsFunc(c.Strips, func(s *line.Strip) bool { return !s.Bold })
}

func (c *Chunk) italic() bool {
	return c.first().StartsItalic() && !slices.ContainsFunc(c.Strips, func(s *line.Strip) bool { return !s.Italic })
}

func (c *Chunk) size() float64 { return c.first().Size }

// body is the text proper of a sheet: without running heads and feet and what is
// set sideways.
type body struct {
	sheet.Sheet
	references bool // the list of references has begun
}

func newBody(sh *sheet.Sheet, references bool) *body {
	b := &body{Sheet: *sh, references: references}
	b.Strips = nil
	for _, s := range sh.Strips {
		if !s.Furniture && !s.Sideways {
			b.Strips = append(b.Strips, s)
		}
	}
	return b
}

// chunks groups the strips of a page into blocks without kind, tables apart.
func (p *body) chunks() []*Chunk {
	var out []*Chunk
	var cur *Chunk
	for i := 0; i < len(p.Strips); {
		if g, n := table.At(&p.Sheet, i); g != nil {
			t := &Chunk{Kind: ingest.Table, Strips: slices.Clone(p.Strips[i : i+n]), Table: g}
			out = append(p.takeHeads(out, t), t)
			t.Strips = t.Table.Finish(t.Strips, p.Codes)
			i, cur = i+n, nil
			continue
		}
		s := p.Strips[i]
		i++
		if section, named := heading.Section(s.Text); named && len(s.Cells) == 1 {
			p.references = section == ingest.SectionReferences
			out = append(out, &Chunk{Kind: ingest.Heading, Strips: []*line.Strip{s}})
			cur = nil
			continue
		}
		if cur != nil && p.joins(cur, s) {
			cur.Strips = append(cur.Strips, s)
			continue
		}
		if head, rest := p.runInHeading(s); head != nil {
			out = append(out, &Chunk{Kind: ingest.Heading, Strips: []*line.Strip{head}})
			s = rest
		}
		cur = &Chunk{Kind: ingest.Paragraph, Strips: []*line.Strip{s}}
		out = append(out, cur)
	}
	return out
}

// Distances between lines of one block, common practice.
const (
	looseLine = 1.45 // more than this many leadings apart: another block
	indentMin = 0.7  // a first line stands in by at least this much of its size
	indentMax = 6.0
	sizeStep  = 0.08 // sizes that differ by more are different type
	rowCells  = 3    // a line of as many cells is a row, though no table was found about it, and no line of prose
)

// joins reports whether s is the next line of the block.
func (p *body) joins(c *Chunk, s *line.Strip) bool {
	prev := c.last()
	if s.Sideways || prev.Sideways || !line.Near(s.Size, prev.Size, sizeStep) {
		return false
	}
	down := s.Base - prev.Base
	if down < -0.4*s.Size {
		return false
	}
	if down <= 0.4*s.Size {
		return s.X0 >= prev.X1-s.Size && s.X0-prev.X1 < line.CellGap*s.Size
	}
	if (len(s.Cells) >= rowCells) != (len(prev.Cells) >= rowCells) {
		return false
	}
	if down > p.reach(c, s) || s.X0 >= prev.X1 || prev.X0 >= s.X1 {
		return false
	}
	if s.Bold != prev.Bold && (len(s.Glyphs) > 3 && len(prev.Glyphs) > 3) && !p.references {
		return false
	}
	if len(c.Strips) == 1 && p.isNumbered(prev) || prose.EndsSentence(prev.Text) && p.isNumbered(s) {
		return false
	}
	return !p.opens(c, prev, s) && !p.headsBelow(c, s) && !p.headedBy(prev, s)
}

// reach is how far below the block its next line may stand.
func (p *body) reach(c *Chunk, s *line.Strip) float64 {
	step := p.Leading * max(1, s.Size/max(p.Body, 1))
	if n := len(c.Strips); n >= 2 {
		if d := c.Strips[n-1].Base - c.Strips[n-2].Base; d > 0.8*s.Size && d < step {
			step = d
		}
	}
	return looseLine * step
}

// opens reports whether s opens a new paragraph or list entry below prev.
func (p *body) opens(c *Chunk, prev, s *line.Strip) bool {
	indent := s.X0 - c.left()
	step := indentMin * s.Size
	if len(c.Strips) == 1 && prev.X0 > s.X0+step && p.Centred(prev) && s.X1 > p.RightEdge(s)-s.Size {
		return true
	}
	if s.X0 > prev.X0+step && strings.ToUpper(s.Text) == s.Text && p.Centred(s) && !p.Centred(prev) {
		return true
	}
	hanging := len(c.Strips) >= 2 && c.Strips[1].X0-c.first().X0 > step && s.X0-c.first().X0 < 0.3*s.Size
	if hanging || p.references {
		return hanging // inside an entry, lines stand in and end early too; its words tell where one begins
	}
	if len(c.Strips) >= 2 && indent > step && indent < indentMax*s.Size && prev.X0-c.left() < 0.3*s.Size {
		return true
	}
	short := prev.X1 < p.RightEdge(prev)-3*s.Size
	return short && prose.EndsSentence(prev.Text) && unicode.IsUpper(prose.FirstLetter(s.Text)) && (indent > step || len(c.Strips) >= 2 || prev.X1 < p.RightEdge(prev)-8*s.Size)
}

package block

import (
	"slices"

	"hatchlore/ingest"
	"hatchlore/ingest/heading"
	"hatchlore/ingest/line"
	"hatchlore/ingest/prose"
)

// Heads of columns stand at most this many leadings above the first row, in at
// most this many blocks.
const (
	headReach  = 4.5
	headBlocks = 12
)

// takeHeads moves the column heads above a table into it: short blocks without
// a sentence's end, within the table's width. It returns the chunks without
// them.
func (p *body) takeHeads(out []*Chunk, t *Chunk) []*Chunk {
	out = cutHeads(out, t)
	x0, x1 := t.Table.Edges()
	x0, x1 = x0-3*t.size(), x1+3*t.size()
	lowest := t.first().Base + 0.4*t.size()
	if n := t.Table.HeadRows; n > 0 && n < len(t.Strips) {
		lowest = max(lowest, t.Strips[n].Base-0.4*t.size()) // beside the heads that the table has
	}
	var heads []*line.Strip
	for n := 0; n < headBlocks && len(out) > 0; n++ {
		c := out[len(out)-1]
		text := c.text()
		if c.Kind != ingest.Paragraph || len(c.Strips) > 4 || len(text) > 160 || prose.EndsSentence(text) || heading.IsCaption(text, true) ||
			c.first().Base < t.first().Base-headReach*p.Leading || c.last().Base > lowest {
			break
		}
		fits := true
		for _, s := range c.Strips {
			fits = fits && s.X0 >= x0 && s.X1 <= x1
		}
		if !fits {
			break
		}
		heads = append(slices.Clone(c.Strips), heads...)
		out = out[:len(out)-1]
	}
	if len(heads) == 0 {
		return out
	}
	t.Strips = t.Table.AddHeads(heads, t.Strips, p.Codes)
	return out
}

// cutHeads parts the line of heads from the caption whose last line it seems to be.
func cutHeads(out []*Chunk, t *Chunk) []*Chunk {
	if len(out) == 0 {
		return out
	}
	c := out[len(out)-1]
	n := len(c.Strips)
	if c.Kind != ingest.Paragraph || n < 2 || prose.EndsSentence(c.last().Text) || !t.Table.IsHead(c.last()) {
		return out
	}
	heads := &Chunk{Kind: ingest.Paragraph, Strips: c.Strips[n-1:]}
	c.Strips = c.Strips[:n-1]
	return append(out, heads)
}

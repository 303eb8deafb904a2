package block

import (
	"strings"
	"unicode"

	"hatchlore/ingest"
	"hatchlore/ingest/line"
	"hatchlore/ingest/prose"
	"hatchlore/ingest/sheet"
)

// mend puts paragraphs together that a column's end or a figure has parted: the
// first half breaks off in a sentence and the second goes on with it. What
// stood between them then follows both.
func mend(p *sheet.Sheet, page []*Chunk) []*Chunk {
	var out []*Chunk
	taken := map[*Chunk]bool{}
	for i, c := range page {
		if taken[c] {
			continue
		}
		out = append(out, c)
		if c.Kind != ingest.Paragraph && c.Kind != ingest.Reference && c.Kind != ingest.ListItem || c.isFloat() {
			continue
		}
		captioned := false
		for j := i + 1; j < len(page); j++ {
			next := page[j]
			captioned = captioned || next.Kind == ingest.Caption
			if taken[next] || next.isFloat() {
				continue
			}
			// In one column, only a figure or table parts a sentence.
			if j > i+1 && !captioned && next.first().Base > c.last().Base {
				break
			}
			if next.Kind != ingest.Paragraph && next.Kind != ingest.Reference || !goesOn(p, c, next) {
				break
			}
			c.Strips = append(c.Strips, next.Strips...)
			taken[next] = true
		}
	}
	return out
}

// isFloat reports whether the chunk may stand anywhere on the page.
func (c *Chunk) isFloat() bool {
	return c.Kind == "" || c.Kind == ingest.Caption || c.Kind == ingest.Table || c.Kind == ingest.Footnote || c.first().Sideways || len(c.first().Cells) >= rowCells
}

// goesOn reports whether next continues the sentence in which c breaks off.
func goesOn(p *sheet.Sheet, c, next *Chunk) bool {
	last, first := c.last(), next.first()
	if prose.EndsSentence(last.Text) || last.Sideways || first.Sideways || !line.Near(last.Size, first.Size, sizeStep) || last.Bold != first.Bold {
		return false
	}
	if last.X1-last.X0 < 8*last.Size {
		return false
	}
	r := prose.First(strings.TrimLeft(first.Text, "“\"'(["))
	lower := unicode.IsLower(r)
	if first.Base > last.Base {
		// Below it: only a figure can have parted them, or an uneven line.
		return unicode.IsLower(prose.First(first.Text)) && p.Column(first) == p.Column(last)
	}
	full := last.X1 > p.RightEdge(last)-3*last.Size
	return (lower || unicode.IsDigit(r) || strings.HasSuffix(last.Text, "-") || full && unicode.IsLetter(r)) && len(next.Strips) > 1 || lower && full
}

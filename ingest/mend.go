package ingest

import (
	"strings"
	"unicode"
)

// mend puts paragraphs together that a column's end or a figure has parted: the
// first half breaks off in a sentence and the second goes on with it. What
// stood between them then follows both.
func (p *sheet) mend(page []*chunk) []*chunk {
	var out []*chunk
	taken := map[*chunk]bool{}
	for i, c := range page {
		if taken[c] {
			continue
		}
		out = append(out, c)
		if c.kind != Paragraph && c.kind != Reference && c.kind != ListItem {
			continue
		}
		captioned := false
		for j := i + 1; j < len(page); j++ {
			next := page[j]
			captioned = captioned || next.kind == Caption
			if taken[next] || next.isFloat() {
				continue
			}
			// In one column, only a figure or table parts a sentence.
			if j > i+1 && !captioned && next.first().base > c.last().base {
				break
			}
			if next.kind != Paragraph && next.kind != Reference || !p.goesOn(c, next) {
				break
			}
			c.strips = append(c.strips, next.strips...)
			taken[next] = true
		}
	}
	return out
}

// isFloat reports whether the chunk may stand anywhere on the page.
func (c *chunk) isFloat() bool {
	return c.kind == "" || c.kind == Caption || c.kind == Table || c.kind == Footnote || c.first().sideways
}

// goesOn reports whether next continues the sentence in which c breaks off.
func (p *sheet) goesOn(c, next *chunk) bool {
	last, first := c.last(), next.first()
	if endsSentence(last.text) || last.sideways || first.sideways || !near(last.size, first.size, sizeStep) || last.bold != first.bold {
		return false
	}
	if last.x1-last.x0 < 8*last.size {
		return false
	}
	r := firstRune(strings.TrimLeft(first.text, "“\"'(["))
	lower := unicode.IsLower(r)
	if first.base > last.base {
		// Below it: only a figure can have parted them, or an uneven line.
		return unicode.IsLower(firstRune(first.text)) && p.column(first) == p.column(last)
	}
	full := last.x1 > p.rightEdge(last)-3*last.size
	return (lower || unicode.IsDigit(r) || strings.HasSuffix(last.text, "-") || full && unicode.IsLetter(r)) && len(next.strips) > 1 || lower && full
}

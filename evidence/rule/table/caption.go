package table

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
)

// findCaption finds the caption: the block before the table or behind it, or
// the lines above it from the label on, where the layout has torn them apart.
func (t *Table) findCaption() {
	const short = 300 // bytes of what a caption may go on with on another page
	k := t.At - 1
	if k >= 0 && t.isTableCaption(t.page, t.Blocks[k]) && t.closed(t.Blocks[k]) {
		t.addCaption(t.page, t.Blocks[k])
		return
	}
	if lines := t.linesAbove(); len(lines) > 0 {
		t.caption = append(t.caption, captionPart{page: t.page, lines: lines})
		return
	}
	if k >= 0 {
		b := t.Blocks[k]
		switch {
		case t.isTableCaption(t.page, b):
			t.addCaption(t.page, b)
			return
		case b.Kind == ingest.Paragraph && b.End-b.Start < short:
			if page, open := t.openCaption(k - 1); page != nil {
				t.addCaption(page, open)
				t.addCaption(t.page, b)
				return
			}
		}
	}
	if k := t.At + 1; k < len(t.Blocks) && t.isTableCaption(t.page, t.Blocks[k]) &&
		(k+1 == len(t.Blocks) || t.Blocks[k+1].Kind != ingest.Table) {
		t.addCaption(t.page, t.Blocks[k])
	}
}

// closed reports whether a caption's text ends: with a full stop, a bracket or,
// where the table has no heads, behind a full stop with a line of them. Texts without geometry have no torn
// captions.
func (t *Table) closed(b ingest.Block) bool {
	text := strings.TrimSpace(t.page.Text[b.Start:b.End])
	if strings.HasSuffix(text, ".") || strings.HasSuffix(text, ")") || t.Doc.Format != "pdf" {
		return true
	}
	if t.block.Rows[0].Head {
		return false
	}
	for _, l := range t.page.Lines {
		if l.End == b.End && l.Start > b.Start {
			before := strings.TrimSpace(t.page.Text[b.Start:l.Start])
			return strings.HasSuffix(before, ".") || strings.HasSuffix(before, ")")
		}
	}
	return false
}

// linesAbove returns the printed lines from the nearest table label above the
// table down to the table, within its width, in the order of reading.
func (t *Table) linesAbove() []span {
	const (
		reach = 8   // heights of letters a caption may take up
		slack = 0.6 // heights of letters by which lines of one row may differ
	)
	left, right, top, size := t.extent()
	if size <= 0 {
		return nil
	}
	var label *ingest.Line
	for i := range t.page.Lines {
		l := &t.page.Lines[i]
		if l.Y < top && top-l.Y < reach*size && l.X < right && l.X+l.Width > left-reach*size && (label == nil || l.Y > label.Y) && t.isLabel(l) {
			label = l
		}
	}
	if label == nil {
		return nil
	}
	var found []ingest.Line
	for _, l := range t.page.Lines {
		if l.Y > label.Y-slack*size && l.Y < top-slack*size && l.X >= label.X-2*size && l.X < right && l.Start < l.End {
			found = append(found, l)
		}
	}
	slices.SortStableFunc(found, func(a, b ingest.Line) int {
		if math.Abs(a.Y-b.Y) > slack*size {
			return cmp.Compare(a.Y, b.Y)
		}
		return cmp.Compare(a.X, b.X)
	})
	out := make([]span, len(found))
	for i, l := range found {
		out[i] = span{l.Start, l.End}
	}
	return out
}

// extent is the stretch of the page that the table takes up, and the height of
// its letters.
func (t *Table) extent() (left, right, top, size float64) {
	for _, l := range t.page.Lines {
		if l.Start < t.block.Start || l.End > t.block.End || l.Size <= 0 {
			continue
		}
		if size == 0 {
			left, right, top = l.X, l.X+l.Width, l.Y
		}
		left, right, top, size = min(left, l.X), max(right, l.X+l.Width), min(top, l.Y), max(size, l.Size)
	}
	return left, right, top, size
}

// isLabel reports whether a line begins with the label of a table.
func (t *Table) isLabel(l *ingest.Line) bool {
	b := ingest.Block{Kind: ingest.Paragraph, Start: l.Start, End: l.End}
	ws := lexicon.Words(t.page.Text, l.Start, l.End)
	if len(ws) == 2 {
		ws = append(ws, lexicon.Word{}) // a label alone on its line
	}
	return IsCaption(b, ws) && strings.HasPrefix(ws[0].Fold, "ta")
}

// text returns the caption's words as one line.
func (c *captionPart) text() string {
	parts := make([]string, len(c.lines))
	for i, l := range c.lines {
		parts[i] = c.page.Text[l.start:l.end]
	}
	return strings.Join(parts, " ")
}

// place returns where the stretch of the wording stands on the page: of a torn
// caption, the part of the line in which it begins.
func (c *captionPart) place(s span) span {
	at := 0
	for _, l := range c.lines {
		n := l.end - l.start
		if s.start <= at+n {
			return trim(c.page.Text, l.start+max(0, s.start-at), min(l.end, l.start+s.end-at))
		}
		at += n + 1
	}
	return span{}
}

func (t *Table) addCaption(page *ingest.Page, b ingest.Block) {
	t.caption = append(t.caption, captionPart{page: page, lines: []span{{b.Start, b.End}}})
}

// openCaption looks from block k backwards, at the beginning of a page also
// at the end of the page before, for the caption of a table that has no end.
func (t *Table) openCaption(k int) (*ingest.Page, ingest.Block) {
	const far = 4 // blocks; feet and footnotes may stand between
	page, blocks := t.page, t.Blocks
	if k < 0 && t.Page > 0 {
		page = &t.Doc.Pages[t.Page-1]
		blocks = blocksOf(page)
		k = len(blocks) - 1
	}
	for n := 0; n < far && k >= 0; n, k = n+1, k-1 {
		b := blocks[k]
		if text := page.Text[b.Start:b.End]; t.isTableCaption(page, b) && !strings.HasSuffix(strings.TrimSpace(text), ".") {
			return page, b
		}
		if page == t.page {
			break
		}
	}
	return nil, ingest.Block{}
}

// isTableCaption reports whether the block is a caption, and not a figure's.
func (t *Table) isTableCaption(page *ingest.Page, b ingest.Block) bool {
	ws := lexicon.Words(page.Text, b.Start, min(b.End, b.Start+80))
	if len(ws) == 0 || !IsCaption(b, ws) {
		return false
	}
	for _, w := range []string{"fig", "abb", "plate", "taf", "chart", "graph", "plot"} {
		if strings.HasPrefix(ws[0].Fold, w) {
			return false
		}
	}
	return true
}

// headFromCaption takes the last line of the caption for the heads, where a
// sentence ends before it.
func (t *Table) headFromCaption(n int, small map[string]bool) {
	c := &t.caption[len(t.caption)-1]
	last := &c.lines[len(c.lines)-1]
	if c.page != t.page {
		return
	}
	for _, l := range t.page.Lines {
		if l.End != last.end || l.Start <= last.start || l.End <= l.Start {
			continue
		}
		before := strings.TrimRight(t.page.Text[last.start:l.Start], " \n")
		if !strings.HasSuffix(before, ".") && !strings.HasSuffix(before, ")") {
			return
		}
		heads := splitHeads(t.page.Text, span{l.Start, l.End}, n, small)
		if heads == nil {
			return
		}
		t.heads, last.end = heads, last.start+len(before)
	}
}

// IsCaption reports whether a sentence belongs to a caption, by its block or
// by the label that it begins with.
func IsCaption(b ingest.Block, ws []lexicon.Word) bool {
	if b.Kind == ingest.Caption {
		return true
	}
	if len(ws) < 2 || ws[1].Fold[0] < '0' || ws[1].Fold[0] > '9' {
		return false
	}
	switch ws[0].Fold {
	case "figure", "fig", "table", "tab", "abb", "abbildung", "tabelle", "tableau", "figura", "tabla", "tabella", "tabela":
		return true
	}
	return false
}

package rule

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// tablePlace is a table's place in a reading.
type tablePlace struct {
	page   *ingest.Page
	number int // index of the page in the document
	block  ingest.Block
	blocks []ingest.Block // of the page, as laid out for reading
	at     int            // index of the block among them
	next   int            // index of the sentence behind the table
	region int
	lex    *lexicon
}

// hatchTable is a table as claims see it: what its caption, heads and row
// labels say, and what was counted where.
type hatchTable struct {
	tablePlace
	words   *lexicon // head words of its language
	caption []captionPart
	about   wording // all of the caption
	unsaid  evidence.Factor
	heads   []span // of each column, empty without a head
	columns []column
	rows    []tableRow
	legend  map[span]bool // stretches of the caption that say what a head means
}

// captionPart is a stretch of a caption; a caption may run over a page's end.
type captionPart struct {
	page *ingest.Page
	span
	wording wording
	names   []name.Name
}

// tableRow is one row below the heads.
type tableRow struct {
	span
	cells  []span
	label  wording     // its cells without numbers, as one
	given  []treatment // what the label says
	names  []name.Name
	tested bool // some column of factors has a value here
	cited  string
	event  *event // an outcome in words
}

// event is an outcome that a cell tells in words.
type event struct {
	stage evidence.Stage
}

// addTable keeps the table for when the text around it has been read.
func (r *reading) addTable(p tablePlace) {
	if p.block.Section == ingest.SectionReferences || p.block.Section == ingest.SectionOther {
		return
	}
	r.tables = append(r.tables, p)
}

// withTables replaces what the text of captions says under the rules for
// sentences by what captions, heads and rows say together.
func (r *reading) withTables(found []Explained) []Explained {
	for _, p := range r.tables {
		t := r.understand(p)
		if t == nil {
			continue
		}
		found = slices.DeleteFunc(found, func(e Explained) bool { return t.captions(e.Claim) })
		found = append(found, r.tableClaims(t)...)
	}
	slices.SortStableFunc(found, func(a, b Explained) int {
		if a.Claim.Page != b.Claim.Page {
			return a.Claim.Page - b.Claim.Page
		}
		return a.Claim.Start - b.Claim.Start
	})
	return found
}

// captions reports whether the claim was read from the table's caption.
func (t *hatchTable) captions(c evidence.Claim) bool {
	for _, p := range t.caption {
		pos := runes{text: p.page.Text}
		if c.Page == p.page.Number && c.Start < pos.at(p.end) && c.End > pos.at(p.start) {
			return true
		}
	}
	return false
}

// understand reads a table's parts; nil when it does not tell of hatching.
func (r *reading) understand(p tablePlace) *hatchTable {
	t := &hatchTable{tablePlace: p, legend: map[span]bool{}}
	if len(p.block.Rows) == 0 {
		return nil
	}
	t.findCaption(r)
	t.findRows()
	t.words = r.headWords(t)
	if t.words == nil {
		return nil
	}
	var said []string
	for i := range t.caption {
		c := &t.caption[i]
		c.wording = readWording(c.page.Text[c.start:c.end], t.words)
		c.names = within(r.scope.Find(c.page.Text), c.span)
		said = append(said, c.wording.text)
	}
	t.about = readWording(strings.Join(said, " "), t.words)
	t.unsaid = t.about.onlyLength()
	t.readColumns(r)
	t.readLabels(r)
	if !t.tells() {
		return nil
	}
	return t
}

// headWords returns the head words of the language that the table is in.
func (r *reading) headWords(t *hatchTable) *lexicon {
	if len(r.set.heads) == 0 {
		return nil
	}
	var ws []word
	for _, c := range t.caption {
		ws = append(ws, words(c.page.Text, c.start, c.end)...)
	}
	lang := r.set.lexiconFor(ws, t.lex.lang).lang
	if lex, ok := r.set.heads[lang]; ok {
		return lex
	}
	return r.set.heads["en"]
}

// tells reports whether the table is about the hatching of eggs: a column
// counts it, or rows name it, or the caption speaks of eggs and what was done
// to them. A caption about adults, ponds or growth must name hatching itself.
func (t *hatchTable) tells() bool {
	if t.about.has("foreign") && !t.about.has("hatched") && !t.about.has("emerged") {
		return false
	}
	for _, c := range t.columns {
		if c.kind == outcomeColumn || c.kind == timeColumn {
			return true
		}
	}
	for _, row := range t.rows {
		if row.event != nil {
			return true
		}
	}
	if t.about.has("foreign") || !t.about.has("count") && !t.about.has("hatched") {
		return false
	}
	return slices.ContainsFunc(t.columns, func(c column) bool { return c.kind == factorColumn })
}

// findCaption finds the caption before the table, or else behind it.
func (t *hatchTable) findCaption(r *reading) {
	const short = 300 // bytes of what a caption may go on with on another page
	if k := t.at - 1; k >= 0 {
		b := t.blocks[k]
		switch {
		case t.isTableCaption(t.page, b):
			t.addCaption(t.page, b)
		case b.Kind == ingest.Paragraph && b.End-b.Start < short:
			if page, open := t.openCaption(r, k-1); page != nil {
				t.addCaption(page, open)
				t.addCaption(t.page, b)
			}
		}
	}
	if k := t.at + 1; len(t.caption) == 0 && k < len(t.blocks) && t.isTableCaption(t.page, t.blocks[k]) &&
		(k+1 == len(t.blocks) || t.blocks[k+1].Kind != ingest.Table) {
		t.addCaption(t.page, t.blocks[k])
	}
}

func (t *hatchTable) addCaption(page *ingest.Page, b ingest.Block) {
	t.caption = append(t.caption, captionPart{page: page, span: span{b.Start, b.End}})
}

// openCaption looks from block k backwards, at the beginning of a page also
// at the end of the page before, for the caption of a table that has no end.
func (t *hatchTable) openCaption(r *reading, k int) (*ingest.Page, ingest.Block) {
	const far = 4 // blocks; feet and footnotes may stand between
	page, blocks := t.page, t.blocks
	if k < 0 && t.number > 0 {
		page = &r.doc.Pages[t.number-1]
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
func (t *hatchTable) isTableCaption(page *ingest.Page, b ingest.Block) bool {
	ws := words(page.Text, b.Start, min(b.End, b.Start+80))
	if len(ws) == 0 || !isCaption(b, ws) {
		return false
	}
	for _, w := range []string{"fig", "abb", "plate", "taf", "chart", "graph", "plot"} {
		if strings.HasPrefix(ws[0].fold, w) {
			return false
		}
	}
	return true
}

// findRows parts heads from rows. Heads that a layout left at the end of the
// caption, on a line of their own, are taken from there.
func (t *hatchTable) findRows() {
	n := 0
	for _, row := range t.block.Rows {
		n = max(n, len(row.Cells))
	}
	t.heads = make([]span, n)
	headed := false
	for _, row := range t.block.Rows {
		if row.Head {
			headed = true
			for i, c := range row.Cells {
				t.heads[i] = t.heads[i].cover(span{c.Start, c.End})
			}
			continue
		}
		tr := tableRow{}
		for _, c := range row.Cells {
			tr.cells = append(tr.cells, span{c.Start, c.End})
			tr.span = tr.span.cover(span{c.Start, c.End})
		}
		if tr.start < tr.end {
			t.rows = append(t.rows, tr)
		}
	}
	if !headed && len(t.caption) > 0 {
		t.headFromCaption(n)
	}
}

// headFromCaption takes the last line of the caption for the heads, where a
// sentence ends before it.
func (t *hatchTable) headFromCaption(n int) {
	c := &t.caption[len(t.caption)-1]
	if c.page != t.page {
		return
	}
	for _, l := range t.page.Lines {
		if l.End != c.end || l.Start <= c.start || l.End <= l.Start {
			continue
		}
		before := strings.TrimRight(t.page.Text[c.start:l.Start], " \n")
		if !strings.HasSuffix(before, ".") && !strings.HasSuffix(before, ")") {
			return
		}
		heads := splitHeads(t.page.Text, span{l.Start, l.End}, n, t.lex.common)
		if heads == nil {
			return
		}
		t.heads, c.end = heads, c.start+len(before)
	}
}

// cover returns the stretch from the beginning of the first to the end of the
// last; an empty one adds nothing.
func (s span) cover(o span) span {
	switch {
	case o.start >= o.end:
		return s
	case s.start >= s.end:
		return o
	}
	return span{min(s.start, o.start), max(s.end, o.end)}
}

// within returns the names that stand in the stretch.
func within(names []name.Name, s span) (out []name.Name) {
	for _, n := range names {
		if n.Start >= s.start && n.End <= s.end && n.Rank != name.Group {
			out = append(out, n)
		}
	}
	return out
}

// readLabels reads what the cells without numbers say of each row.
func (t *hatchTable) readLabels(r *reading) {
	names := r.scope.Find(t.page.Text)
	for i := range t.rows {
		row := &t.rows[i]
		var texts []string
		for k, c := range row.cells {
			if k >= len(t.columns) || c.start >= c.end {
				continue
			}
			row.names = append(row.names, within(names, c)...)
			switch t.columns[k].kind {
			case labelColumn:
				texts = append(texts, t.page.Text[c.start:c.end])
			case factorColumn:
				row.tested = true
			}
		}
		row.label = readWording(strings.Join(texts, ", "), t.words)
		row.given = row.label.treatments(t.unsaid, false)
		row.cited = rowCitation.FindString(row.label.text)
		row.event = row.label.event(len(texts))
	}
}

package table

import (
	"slices"
	"strings"
	"unicode"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// Place is a table's place in a document, and what the text around it knows.
type Place struct {
	Doc    *ingest.Document
	Page   int            // index in the document
	Blocks []ingest.Block // of the page, as laid out for reading
	At     int            // index of the table among them
	Lang   string         // of the text around
	Scope  *name.Scope
	About  func() []name.Name     // whom the text before is about
	Name   func(name.Name) string // a name as claims show it
}

// Table is a table that tells of hatching: what its caption, heads and row
// labels say, and what was counted where.
type Table struct {
	Place
	page    *ingest.Page
	block   ingest.Block
	words   *lexicon.Lexicon // head words of its language
	caption []captionPart
	about   wording // all of the caption
	unsaid  evidence.Factor
	heads   []span // of each column, empty without a head
	columns []column
	rows    []tableRow
	lines   []span        // of a table that lay, by column: see stand
	legend  map[span]bool // stretches of the caption that say what a head means
}

// span is a stretch of bytes.
type span struct{ start, end int }

func trim(text string, start, end int) span {
	start, end = lexicon.Trim(text, start, end)
	return span{start, end}
}

// captionPart is a caption, or the part of it that stands on one page.
type captionPart struct {
	page    *ingest.Page
	lines   []span // of the page; a caption read as one block is one line
	wording wording
	names   []name.Name // spans in the wording
}

// tableRow is one row below the heads.
type tableRow struct {
	span
	cells  []span
	label  wording     // its cells without numbers, as one
	origin string      // of its eggs, where a column tells it
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

// Captions reports whether a stretch of a page belongs to the table's caption,
// or to heads that the layout left there: what stands there is told by the table.
func (t *Table) Captions(page *ingest.Page, start, end int) bool {
	for _, h := range t.heads {
		if t.page == page && start < h.end && end > h.start {
			return true
		}
	}
	for _, p := range t.caption {
		for _, l := range p.lines {
			if p.page == page && start < l.end && end > l.start {
				return true
			}
		}
	}
	return false
}

// Read reads a table's parts; nil when it does not tell of hatching.
func (r *Reader) Read(p Place) *Table {
	page := &p.Doc.Pages[p.Page]
	t := &Table{Place: p, page: page, block: p.Blocks[p.At], legend: map[span]bool{}}
	if len(t.block.Rows) == 0 {
		return nil
	}
	t.findCaption()
	r.stand(t)
	t.findRows(r.smallWords(p.Lang))
	if t.words = r.headWords(t); t.words == nil {
		return nil
	}
	var said []string
	for i := range t.caption {
		c := &t.caption[i]
		c.wording = readWording(c.text(), t.words)
		c.names = t.Scope.Find(c.wording.text)
		said = append(said, c.wording.text)
	}
	t.about = readWording(strings.Join(said, " "), t.words)
	t.unsaid = t.about.onlyLength()
	t.readColumns()
	t.readLabels()
	if !t.tells() {
		return nil
	}
	return t
}

// headWords returns the head words of the language that knows most of the
// caption and the heads, for choice that of the text around; nil without any.
func (r *Reader) headWords(t *Table) *lexicon.Lexicon {
	var ws []lexicon.Word
	for _, c := range t.caption {
		text := c.text()
		ws = append(ws, lexicon.Words(text, 0, len(text))...)
	}
	for _, h := range t.heads {
		ws = append(ws, lexicon.Words(t.page.Text, h.start, h.end)...)
	}
	best := r.heads[t.Lang]
	most := 0
	if best != nil {
		most = len(best.Find(ws, hiding))
	}
	for _, lang := range r.langs {
		if lex := r.heads[lang]; lex != nil {
			if n := len(lex.Find(ws, hiding)); best == nil || n > most {
				best, most = lex, n
			}
		}
	}
	return best
}

// tells reports whether the table is about the hatching of eggs: a column
// counts it, or rows name it, or the caption speaks of eggs and what was done
// to them. A caption about adults, ponds or growth must name hatching itself.
func (t *Table) tells() bool {
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

// findRows parts heads from rows. Heads that a layout left at the end of the
// caption, on a line of their own, are taken from there.
func (t *Table) findRows(small map[string]bool) {
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
		if t.lines != nil {
			tr.span = t.lines[0] // which names the levels
		}
		if tr.start < tr.end {
			t.rows = append(t.rows, tr)
		}
	}
	if !headed && len(t.caption) > 0 {
		t.headFromCaption(n, small)
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
func (t *Table) readLabels() {
	names := t.Scope.Find(t.page.Text)
	origin := ""
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
				if t.columns[k].head.has("origin") {
					origin = t.page.Text[c.start:c.end] // of the rows below it too, until another
				}
				texts = append(texts, t.page.Text[c.start:c.end])
			case factorColumn:
				row.tested = true
				if text := t.page.Text[c.start:c.end]; !isDash(text) && !strings.ContainsFunc(text, unicode.IsDigit) {
					texts = append(texts, text) // "never dried" among weeks of drying
				}
			}
		}
		row.origin = origin
		row.label = readWording(strings.Join(texts, ", "), t.words)
		row.given = row.label.treatments(t.unsaid, false)
		row.cited = rowCitation.FindString(row.label.text)
		row.event = row.label.event(len(texts))
	}
}

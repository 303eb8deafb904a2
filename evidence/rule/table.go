package rule

import (
	"strconv"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/ingest"
)

// tableRule stands behind claims read from table rows; their layout is no
// matter of cue words alone.
var tableRule = &compiled{rule: &rule{ID: "table.row", Weight: 0.8}}

// column is what the head of a table's column says about its cells.
type column struct {
	factor  evidence.Factor // of a column of levels, or of the level in its head
	unit    string          // behind the cells of a column of levels
	level   *target         // the level that the head itself states
	outcome bool            // the cells count hatching
	percent bool
}

// entry is one statement of a table row: a level or a share, and what came
// of it.
type entry struct {
	factor  evidence.Factor
	t       *target
	bearing bearing
}

// addTable reads the rows of a table as sentences of their own. It reads two
// plain layouts: levels down the first column with hatching in others, and
// levels in the heads with hatching below them.
func (r *reading) addTable(page *ingest.Page, b ingest.Block, head bits, region int, about string, lex *lexicon) {
	cols, body := r.columns(page, b, about, lex)
	if len(body) == 0 || !readable(cols) {
		return
	}
	for i, row := range body {
		s := r.rowSentence(page, b, row, head, region, lex)
		if s == nil {
			continue
		}
		s.entries = r.rowEntries(s, row, cols)
		if i == 0 {
			s.entries = append(s.entries, r.headEntries(s, body, cols)...)
		}
		r.sentences = append(r.sentences, s)
	}
}

// readable reports whether a table has levels and outcomes.
func readable(cols []column) bool {
	levels, outcomes := 0, 0
	for _, c := range cols {
		if c.factor != "" {
			levels++
		}
		if c.outcome {
			outcomes++
		}
	}
	return levels > 0 && outcomes > 0
}

// columns tells what each column holds, from its heads and the words about
// the table; body are the rows below the heads.
func (r *reading) columns(page *ingest.Page, b ingest.Block, about string, lex *lexicon) (cols []column, body []ingest.Row) {
	var heads []string
	for _, row := range b.Rows {
		if !row.Head {
			body = append(body, row)
			continue
		}
		for i, c := range row.Cells {
			for len(heads) <= i {
				heads = append(heads, "")
			}
			heads[i] += page.Text[c.Start:c.End] + " "
		}
	}
	aboutTags := r.set.classesIn(about, 0, len(about), lex)
	percent := strings.Contains(about, "%") || strings.Contains(about, "per cent") || strings.Contains(about, "ercent") || strings.Contains(about, "Prozent")
	for i, h := range heads {
		cols = append(cols, r.columnOf(h, aboutTags, lex, percent, i == 0))
	}
	return cols, body
}

func (r *reading) columnOf(head string, about bits, lex *lexicon, percent, first bool) column {
	ro := r.set.roles
	tags := r.set.classesIn(head, 0, len(head), lex)
	hatching := tags.meets(ro.hatch) || !first && about.meets(ro.hatch) && !tags.meets(ro.life) && !tags.meets(ro.adverse) && !tags.meets(ro.emergence)
	var c column
	for _, q := range quantity.Find(head) {
		items, unit, err := q.Canonical()
		if f := r.factorOf(q.Kind, tags, about); err == nil && f != "" && !first && hatching && len(items) == 1 {
			q := q
			return column{factor: f, outcome: true, percent: percent || strings.Contains(head, "%"),
				level: &target{kind: string(q.Kind), q: &q, siblings: 1, low: items[0].Low, high: items[0].High, unit: string(unit)}}
		}
	}
	if unit, kind := unitOf(head); kind != "" && (!tags.meets(ro.hatch) || first) {
		if f := r.factorOf(kind, tags, about); f != "" {
			return column{factor: f, unit: unit}
		}
		if kind != quantity.Fraction {
			return c
		}
	}
	c.outcome = hatching && (tags.meets(ro.hatch) || strings.Contains(head, "%") || percent)
	c.percent = c.outcome && (strings.Contains(head, "%") || percent && !tags.meets(ro.egg))
	return c
}

// factorOf names the factor of a kind of quantity in the light of the words
// in a head and about the table.
func (r *reading) factorOf(k quantity.Kind, head, about bits) evidence.Factor {
	treat := func(name string) bool {
		b, _ := r.set.bitsOf([]string{name})
		return head.meets(b) || !head.meets(r.set.roles.treat) && about.meets(b)
	}
	switch k {
	case quantity.Temperature:
		if b, _ := r.set.bitsOf([]string{"chill"}); head.meets(b) {
			return evidence.ColdTemperature
		}
		return evidence.WarmTemperature
	case quantity.Salinity:
		return evidence.Salinity
	case quantity.Conductivity:
		return evidence.Conductivity
	case quantity.Acidity:
		return evidence.PH
	case quantity.Oxygen:
		return evidence.Oxygen
	case quantity.Duration:
		switch {
		case treat("chill"):
			return evidence.ColdLength
		case treat("dried"):
			return evidence.Drying
		case treat("store"):
			return evidence.StorageLength
		}
	}
	return ""
}

// unitOf finds the unit that a head names for the numbers below it.
func unitOf(head string) (unit string, kind quantity.Kind) {
	fields := strings.FieldsFunc(head, func(r rune) bool { return strings.ContainsRune(" \n\t()[],;", r) })
	for _, f := range fields {
		if strings.EqualFold(f, "pH") {
			return "pH", quantity.Acidity
		}
		for _, q := range quantity.Find("5 " + strings.TrimSuffix(f, ".")) {
			if q.Start == 0 && q.Kind != quantity.Count && q.Kind != quantity.Other {
				return f, q.Kind
			}
		}
	}
	return "", ""
}

// rowSentence makes a sentence of a row's stretch of text.
func (r *reading) rowSentence(page *ingest.Page, b ingest.Block, row ingest.Row, head bits, region int, lex *lexicon) *sentence {
	sp := span{-1, -1}
	for _, c := range row.Cells {
		if c.Start < c.End {
			if sp.start < 0 || c.Start < sp.start {
				sp.start = c.Start
			}
			sp.end = max(sp.end, c.End)
		}
	}
	if sp.start < 0 {
		return nil
	}
	s := &sentence{span: sp, index: len(r.sentences), page: page, block: b, head: head, lex: lex, region: region, caption: true}
	if s.words = words(page.Text, sp.start, sp.end); len(s.words) == 0 {
		return nil
	}
	s.clauses = []clause{{to: len(s.words), basis: -1}}
	return s
}

// rowEntries reads one row: the level in its first columns, and the share in
// each outcome column.
func (r *reading) rowEntries(s *sentence, row ingest.Row, cols []column) (out []entry) {
	best, counted := 0.0, false
	for i, c := range row.Cells {
		if i >= len(cols) || !cols[i].outcome {
			continue
		}
		v, ok := cellNumber(s.page, c)
		if !ok {
			continue
		}
		best, counted = max(best, v), true
		if cols[i].percent && v <= 100 {
			b := evidence.Favours
			if v == 0 {
				b = evidence.Prevents
			}
			out = append(out, entry{evidence.HatchingFraction, cellTarget(s, c, v, "%", quantity.Fraction), b})
		}
	}
	if !counted {
		return nil
	}
	b := evidence.Favours
	if best == 0 {
		b = evidence.Prevents
	}
	for i, c := range row.Cells {
		if i < len(cols) && cols[i].factor != "" && cols[i].level == nil {
			if t := levelTarget(s, c, cols[i].unit); t != nil {
				out = append(out, entry{cols[i].factor, t, b})
			}
		}
	}
	return out
}

// headEntries reads the levels that stand in the heads, by the cells below.
func (r *reading) headEntries(s *sentence, body []ingest.Row, cols []column) (out []entry) {
	for i, c := range cols {
		if c.level == nil {
			continue
		}
		best, counted := 0.0, false
		for _, row := range body {
			if i < len(row.Cells) {
				if v, ok := cellNumber(s.page, row.Cells[i]); ok {
					best, counted = max(best, v), true
				}
			}
		}
		if !counted {
			continue
		}
		b := evidence.Favours
		if best == 0 {
			b = evidence.Prevents
		}
		out = append(out, entry{c.factor, c.level, b})
	}
	return out
}

// cellNumber returns the number that a cell begins with: the mean of x ± y.
func cellNumber(page *ingest.Page, c ingest.Cell) (float64, bool) {
	f := strings.FieldsFunc(page.Text[c.Start:c.End], func(r rune) bool { return strings.ContainsRune(" ±(%*", r) })
	if len(f) == 0 || page.Marked(ingest.Untrusted, c.Start, c.End) {
		return 0, false
	}
	v, err := strconv.ParseFloat(strings.Replace(f[0], ",", ".", 1), 64)
	return v, err == nil && v >= 0
}

func cellTarget(s *sentence, c ingest.Cell, v float64, unit string, kind quantity.Kind) *target {
	text := s.page.Text[c.Start:c.End]
	q := &quantity.Quantity{Start: c.Start - s.block.Start, End: c.End - s.block.Start, Text: text, Kind: kind, Unit: quantity.Unit(unit)}
	return &target{span: span{c.Start, c.End}, kind: string(kind), q: q, siblings: 1, low: &v, high: &v, unit: unit, to: len(s.words)}
}

// levelTarget reads a cell as a level in the unit of its head.
func levelTarget(s *sentence, c ingest.Cell, unit string) *target {
	if c.Start == c.End || s.page.Marked(ingest.Untrusted, c.Start, c.End) {
		return nil
	}
	text := s.page.Text[c.Start:c.End]
	whole := text + " " + unit
	if unit == "pH" {
		whole = "pH " + text
	}
	for _, q := range quantity.Find(whole) {
		items, to, err := q.Canonical()
		if err != nil || len(items) != 1 || q.Difference {
			continue
		}
		q.Text, q.Start, q.End = text, c.Start-s.block.Start, c.End-s.block.Start
		return &target{span: span{c.Start, c.End}, kind: string(q.Kind), q: &q, siblings: 1, low: items[0].Low, high: items[0].High, unit: string(to), to: len(s.words)}
	}
	return nil
}

// decideRow turns the entries of a table row into findings.
func (r *reading) decideRow(index int, s *sentence, f *focus) (out []*finding) {
	sub := subject{nil, 0.9}
	if g := r.fallback(f); g != nil {
		sub = subject{g.names, 0.95}
	}
	for _, e := range s.entries {
		fd := &finding{s: s, index: index, t: e.t, rule: tableRule, factor: e.factor, bearing: e.bearing, low: e.t.low, high: e.t.high, subject: sub}
		out = append(out, fd)
	}
	return out
}

package table

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// The ids of what claims from tables rest on.
const (
	ruleRow     = "table.row"     // a level in a row, by the outcomes beside it
	ruleColumn  = "table.column"  // a level in a head, by the outcomes below it
	ruleShare   = "table.share"   // a percentage
	ruleTime    = "table.time"    // a time to hatching
	ruleCaption = "table.caption" // a condition of the whole table
)

// Scores of claims from tables: less where more had to be inferred.
const (
	scoreHead   = 0.9  // the head of the column names the factor
	scoreLabel  = 0.85 // a label or head names the level
	scoreGuided = 0.8  // the caption decides
)

// drafting collects the claims of one table.
type drafting struct {
	t     *Table
	seen  []observation
	dry   string // what the undried eggs say of drying: "required", "harmful" or ""
	names []name.Name
	done  map[string]bool
	out   []Claim
}

// Claim is what a table says of one level or outcome, and on which words.
type Claim struct {
	Page       *ingest.Page
	Start, End int            // bytes of the page's text
	Said       evidence.Claim // without its source and place
	Subject    []string       // the names taken, as printed
	Heads      []Head
}

// Head is a column's head at its place on the table's own page.
type Head struct {
	Start, End int // bytes
	Text       string
}

// Claims reads the claims of a table: what each row's levels, each head's
// levels and the caption's conditions came to.
func (t *Table) Claims() []Claim {
	d := &drafting{t: t, done: map[string]bool{}}
	d.names = t.subjects()
	d.observe()
	d.dry = d.needOfDrying()
	d.fromCaption()
	d.fromHeads()
	for i := range t.rows {
		d.fromRow(i)
	}
	return d.out
}

// subjects returns whom the caption, else the text before, is about.
func (t *Table) subjects() []name.Name {
	var in []name.Name
	for _, c := range t.caption {
		in = append(in, within(c.names, span{0, len(c.wording.text)})...)
	}
	if len(in) == 0 {
		in = t.About()
	}
	if len(in) == 0 {
		return nil
	}
	return common(in)
}

// common returns the one name that all are, the genus that different species
// share, or none.
func common(names []name.Name) []name.Name {
	for _, n := range names[1:] {
		if n.Full() == names[0].Full() {
			continue
		}
		if n.Genus != names[0].Genus {
			return nil
		}
		g := names[0]
		g.Rank = name.Genus
		return []name.Name{g}
	}
	return names[:1]
}

// needOfDrying compares dried with undried eggs of one origin.
func (d *drafting) needOfDrying() string {
	var dried, undried []observation
	for _, o := range d.seen {
		switch d.dryness(o) {
		case "dried":
			dried = append(dried, o)
		case "undried":
			undried = append(undried, o)
		}
	}
	if len(dried) == 0 || len(undried) == 0 || len(parties(d.seen)) > 1 {
		return ""
	}
	a, _ := outcome(dried)
	b, _ := outcome(undried)
	switch {
	case a == evidence.Favours && b == evidence.Prevents:
		return "required"
	case a == evidence.Prevents && b == evidence.Favours:
		return "harmful"
	}
	return ""
}

// dryness tells whether the eggs of an observation were dried, by what its
// head and its row's label say; "" when they do not.
func (d *drafting) dryness(o observation) string {
	for _, list := range [][]treatment{d.t.columns[o.col].given, d.t.rows[o.row].given} {
		for _, g := range list {
			switch {
			case g.factor != evidence.Drying:
			case g.category == "not-required":
				return "undried"
			default:
				return "dried"
			}
		}
	}
	return ""
}

// fromCaption claims the conditions that the caption gives for all eggs of the
// table: those of a factor with one value.
func (d *drafting) fromCaption() {
	if len(d.seen) == 0 && !slices.ContainsFunc(d.t.rows, func(row tableRow) bool { return row.event != nil }) {
		return
	}
	b, stage := outcome(d.seen)
	for i, part := range d.t.caption {
		for _, g := range part.wording.treatments("", true) {
			if d.t.legend[span{i, g.at}] || d.varied(g) {
				continue
			}
			names := d.names
			for _, n := range part.names {
				if n.Start <= g.at && n.Rank != name.Group {
					names = []name.Name{n}
				}
			}
			d.add(draft{page: part.page, span: part.partAt(g.at), g: g, bearing: b, stage: stage, names: names, rule: ruleCaption, score: scoreGuided})
		}
	}
}

// varied reports whether the caption lists several values of the factor.
func (d *drafting) varied(g treatment) bool {
	for _, part := range d.t.caption {
		for _, o := range part.wording.treatments("", true) {
			if o.factor == g.factor && o.category == g.category && !(quantity.Same(o.low, g.low) && quantity.Same(o.high, g.high)) {
				return true
			}
		}
	}
	return false
}

// partAt returns, on the page, the part of the caption in which a byte of its
// wording stands.
func (c *captionPart) partAt(at int) span {
	for _, p := range c.wording.parts {
		if at >= p.start && at < p.end {
			return c.place(trim(c.wording.text, p.start, p.end))
		}
	}
	return c.lines[0]
}

// fromHeads claims the levels in the heads by the outcomes below them, and what
// the head of a column of factors says beside.
func (d *drafting) fromHeads() {
	for k := range d.t.columns {
		c := &d.t.columns[k]
		below := d.where(func(o observation) bool { return o.col == k || c.kind == factorColumn })
		given := c.given
		if c.until != nil {
			given = append(slices.Clone(given), *c.until)
		}
		for _, g := range given {
			for _, p := range parties(below) {
				b, stage := outcome(p.seen)
				if g.factor == evidence.TimeToHatch && b != evidence.Favours {
					continue
				}
				d.add(draft{page: d.t.page, span: c.span, g: g, bearing: b, stage: stage, names: p.names, rule: ruleColumn, score: scoreLabel})
			}
		}
	}
}

// fromRow claims the levels of a row by its outcomes, then the outcomes
// themselves.
func (d *drafting) fromRow(i int) {
	row := &d.t.rows[i]
	beside := d.where(func(o observation) bool { return o.row == i })
	for _, g := range row.given {
		d.level(i, g, beside, scoreLabel)
	}
	for k, c := range row.cells {
		if k >= len(d.t.columns) {
			break
		}
		col := &d.t.columns[k]
		switch col.kind {
		case factorColumn:
			if g := d.t.level(col, c); g != nil {
				d.level(i, *g, d.sameLevel(col, k, *g, beside), scoreHead)
			}
		case labelColumn:
			if g := d.t.level(col, c); col.factor != "" && g != nil {
				d.level(i, *g, beside, scoreLabel)
			}
		case timeColumn:
			d.time(i, k, c)
		}
	}
	if d.t.isCourse() {
		return
	}
	for _, o := range beside {
		if d.t.columns[o.col].percent && o.high > 0 && o.high <= 100 {
			d.share(i, o)
		}
	}
}

// sameLevel returns the outcomes at a level in all rows, where several columns
// hold factors: a level hatched when it did so under any of the others.
func (d *drafting) sameLevel(col *column, k int, g treatment, beside []observation) []observation {
	factors := 0
	for _, c := range d.t.columns {
		if c.kind == factorColumn {
			factors++
		}
	}
	if factors < 2 {
		return beside
	}
	return d.where(func(o observation) bool {
		row := d.t.rows[o.row]
		if k >= len(row.cells) {
			return false
		}
		other := d.t.level(col, row.cells[k])
		return other != nil && quantity.Same(other.low, g.low) && quantity.Same(other.high, g.high)
	})
}

// isCourse reports whether the rows follow the same eggs through time: their
// outcomes add up, and none is a share of its own.
func (t *Table) isCourse() bool {
	if len(t.columns) == 0 || t.columns[0].kind != otherColumn {
		return false
	}
	_, kind := t.columns[0].measured()
	return kind == quantity.Duration
}

// level claims one level of row i by outcomes.
func (d *drafting) level(i int, g treatment, seen []observation, score float64) {
	row := &d.t.rows[i]
	if g.factor == evidence.Trigger {
		seen = d.overControl(i, seen)
		if len(seen) == 0 {
			return
		}
	}
	dr := draft{page: d.t.page, span: row.span, g: g, rule: ruleRow, score: score, cited: row.cited}
	if len(seen) == 0 {
		dr.names, dr.bearing = row.names, evidence.Reported
		if len(row.names) == 0 {
			dr.names = d.names
		}
		if row.event != nil {
			dr.bearing, dr.stage = evidence.Favours, row.event.stage
		}
		d.add(dr)
		return
	}
	for _, p := range parties(seen) {
		dr.bearing, dr.stage = outcome(p.seen)
		dr.names = p.names
		shown := d.t.rows[showing(i, p.seen, dr)]
		dr.span, dr.cited = shown.span, shown.cited
		d.add(dr)
	}
}

// showing is the row that shows what a level did: row i, unless eggs hatched at the
// level in another and none in it; then the one in which most did.
func showing(i int, seen []observation, dr draft) int {
	best := observation{row: i}
	for _, o := range seen {
		switch {
		case dr.bearing != evidence.Favours || o.stage != dr.stage:
		case o.row == i && o.high > 0:
			return i
		case o.high > best.high:
			best = o
		}
	}
	return best.row
}

// overControl keeps the outcomes of a row when one of them stands out above
// the untreated eggs, or when there are none to compare with.
func (d *drafting) overControl(i int, seen []observation) []observation {
	const clear = 5 // in the unit of the column; common practice, no source
	compared := false
	for _, o := range seen {
		for _, c := range d.seen {
			label := &d.t.rows[c.row].label
			if c.row == i || c.col != o.col || !label.has("control") || !sameNames(c.names, o.names) {
				continue
			}
			compared = true
			if o.high >= c.high+clear {
				return seen
			}
		}
	}
	if compared {
		return nil
	}
	return seen
}

func sameNames(a, b []name.Name) bool {
	return slices.EqualFunc(a, b, func(m, n name.Name) bool { return m.Full() == n.Full() })
}

// quote is what shows an outcome in row i of column k: its row, or the line that was
// one before the table stood.
func (t *Table) quote(i, k int) span {
	if t.lines != nil {
		return t.lines[k]
	}
	return t.rows[i].span
}

// share claims a percentage.
func (d *drafting) share(i int, o observation) {
	row := &d.t.rows[i]
	cell := row.cells[o.col]
	low, high := o.low, o.high
	text := strings.TrimSpace(d.t.page.Text[cell.start:cell.end])
	if !strings.Contains(text, "%") {
		text += " %"
	}
	d.add(draft{page: d.t.page, span: d.t.quote(i, o.col), cell: cell, bearing: evidence.Favours, stage: o.stage, names: o.names, rule: ruleShare, score: scoreHead,
		g: treatment{factor: evidence.HatchingFraction, low: &low, high: &high, unit: "%", printed: text}, cited: row.cited})
}

// time claims how long the eggs of a row took.
func (d *drafting) time(i, k int, cell span) {
	row, col := &d.t.rows[i], &d.t.columns[k]
	timed := *col
	timed.factor = evidence.TimeToHatch
	g := d.t.level(&timed, cell)
	if g == nil || g.high != nil && *g.high <= 0 {
		return
	}
	names := row.names
	if len(names) == 0 {
		names = d.names
	}
	stage := evidence.StageHatching
	if col.head.has("emerged") && !col.head.has("hatched") {
		stage = evidence.StageEmergence
	}
	d.add(draft{page: d.t.page, span: d.t.quote(i, k), cell: cell, g: *g, bearing: evidence.Favours, stage: stage, names: names, rule: ruleTime, score: scoreHead, cited: row.cited})
}

// draft is a claim on its way.
type draft struct {
	page    *ingest.Page
	span    span // the quote
	cell    span // the cell that the value stands in, when it is known
	g       treatment
	bearing evidence.Bearing
	stage   evidence.Stage
	names   []name.Name
	rule    string
	score   float64
	cited   string
}

// settleCategory turns what was found about a treatment without a number into
// a category with its bearing; false when nothing is to be claimed.
func (d *drafting) settleCategory(c *draft) bool {
	hatched := c.bearing == evidence.Favours
	switch {
	case c.bearing == evidence.Reported:
		return c.g.category != driedBare && c.g.category != "not-required" && c.g.category != "tolerated"
	case c.g.factor == evidence.Drying && c.g.category == "not-required":
		c.bearing = evidence.Indifferent
		return hatched
	case c.g.factor == evidence.Drying && c.g.category == driedBare:
		c.g.category = d.dry
		return d.dry != ""
	case c.g.factor == evidence.Drying && hatched && d.dry == "required":
		c.g.category = "required"
	case c.g.factor == evidence.Freezing && c.g.category == "tolerated" && hatched:
		c.bearing = evidence.Indifferent
	case c.g.factor == evidence.Freezing && c.g.category == "tolerated":
		c.g.category = "harmful"
	}
	return true
}

// add makes the claim of a draft, for each of its names, unless the table has
// made it already.
func (d *drafting) add(c draft) {
	if c.span.start >= c.span.end || !d.settleCategory(&c) {
		return
	}
	taxa := []string{""}
	if len(c.names) > 0 {
		taxa = taxa[:0]
		for _, n := range c.names {
			if w := d.t.Name(n); !slices.Contains(taxa, w) {
				taxa = append(taxa, w)
			}
		}
	}
	for i, taxon := range taxa {
		e := d.claim(c, taxon)
		if i < len(c.names) {
			e.Said.TaxonPrinted = c.names[i].Printed
		}
		key := fmt.Sprintf("%s|%s|%s|%s|%s|%s", taxon, c.g.factor, c.bearing, numberKey(c.g.low), numberKey(c.g.high), c.g.category)
		if d.done[key] {
			continue
		}
		d.done[key] = true
		d.out = append(d.out, e)
	}
}

func numberKey(v *float64) string {
	if v == nil {
		return ""
	}
	return fmt.Sprintf("%.6g", *v)
}

func (d *drafting) claim(c draft, taxon string) Claim {
	said := evidence.Claim{Taxon: taxon, Stage: c.stage, Factor: c.g.factor, Bearing: c.bearing, Low: c.g.low, High: c.g.high, Category: c.g.category,
		Rule: c.rule, Score: c.score, Secondhand: c.cited != "", Cited: c.cited}
	if said.Low != nil || said.High != nil {
		said.Unit, said.Printed = c.g.unit, c.g.printed
		said.Inferred = c.page.Marked(ingest.Inferred, c.span.start, c.span.end) || c.page.Marked(ingest.Suspect, c.span.start, c.span.end)
	}
	out := Claim{Page: c.page, Start: c.span.start, End: c.span.end, Said: said}
	for _, n := range c.names {
		out.Subject = append(out.Subject, n.Printed)
	}
	for _, col := range d.t.columns {
		if col.span.start < col.span.end {
			out.Heads = append(out.Heads, Head{col.span.start, col.span.end, col.head.text})
		}
	}
	return out
}

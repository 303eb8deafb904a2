package table

import (
	"slices"
	"strings"
	"unicode"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// columnKind says what the cells of a column are.
type columnKind int

const (
	otherColumn   columnKind = iota // nothing that claims rest on
	labelColumn                     // words
	factorColumn                    // levels of a factor
	outcomeColumn                   // how many eggs hatched
	timeColumn                      // how long they took
)

// column is one column of a table.
type column struct {
	kind    columnKind
	head    wording
	span    span // of the head
	factor  evidence.Factor
	before  string      // what makes a bare number in a cell a quantity,
	unit    string      // before it and behind it
	printed measure     // what the cells themselves print behind their numbers
	given   []treatment // what the head itself says was done
	until   *treatment  // the time within which the outcome was counted
	stage   evidence.Stage
	percent bool
	group   string // the eggs' origin, where the head names no treatment
	names   []name.Name
}

// readColumns tells what each column holds from its head, the caption and its
// cells.
func (t *Table) readColumns() {
	names := t.Scope.Find(t.page.Text)
	t.columns = make([]column, len(t.heads))
	named := false
	for k := range t.columns {
		c := &t.columns[k]
		c.span = t.heads[k]
		c.head = readWording(t.headText(k), t.words)
		c.names = within(names, c.span)
		c.printed = t.printedMeasure(k)
		t.classify(c, k)
		named = named || c.kind == outcomeColumn && c.saysOutcome()
	}
	if named || !t.counts() {
		return
	}
	for k := range t.columns {
		if c := &t.columns[k]; c.kind == otherColumn && k > 0 && t.isGroup(c, k) {
			t.classifyGroup(c)
		}
	}
}

// headText joins the lines of a head. What stands in other columns between
// them is left out.
func (t *Table) headText(k int) string {
	var parts []string
	for _, row := range t.block.Rows {
		if row.Head && k < len(row.Cells) {
			if s := t.page.Text[row.Cells[k].Start:row.Cells[k].End]; s != "" {
				parts = append(parts, s)
			}
		}
	}
	if len(parts) == 0 {
		return t.page.Text[t.heads[k].start:t.heads[k].end]
	}
	return strings.Join(parts, " ")
}

// counts reports whether the caption says that numbers below heads of other
// kinds count hatching.
func (t *Table) counts() bool {
	return t.about.has("hatched") || t.about.has("emerged") || t.about.has("nauplii") || t.about.has("response")
}

func (c *column) saysOutcome() bool {
	return c.head.has("hatched") || c.head.has("emerged") || c.head.has("nauplii") || c.head.has("response")
}

// classify tells what a column holds.
func (t *Table) classify(c *column, k int) {
	h := &c.head
	unit, kind := c.measured()
	switch {
	case h.has("foreign"), h.has("stat") && !c.saysOutcome() && len(c.names) == 0:
		return
	case !t.isNumeric(k) && c.printed.kind == "":
		t.classifyLabels(c)
		return
	}
	switch {
	case kind == quantity.Duration && (h.has("time") || c.saysOutcome()):
		c.kind, c.unit = timeColumn, unit
	case c.saysOutcome():
		t.classifyOutcome(c)
	case t.classifyFactor(c, unit, kind):
		c.kind = factorColumn
		c.given = h.treatments("", false)
	case h.has("count"), h.has("number"):
	case k > 0 && t.counts() && len(h.treatments(t.unsaid, false)) > 0:
		c.given = h.treatments(t.unsaid, false)
		t.classifyOutcome(c)
	case k > 0 && kind == quantity.Fraction && t.counts():
		t.classifyOutcome(c)
	case !t.isNumeric(k):
		t.classifyLabels(c)
	}
}

// classifyLabels makes c a column of words.
func (t *Table) classifyLabels(c *column) {
	c.kind = labelColumn
	if c.head.has("photoperiod") {
		c.factor = evidence.Light
	}
}

// classifyOutcome makes c a column of outcomes. What its head does not say,
// the caption does.
func (t *Table) classifyOutcome(c *column) {
	c.kind = outcomeColumn
	h := &c.head
	c.percent = h.percent() || c.printed.kind == quantity.Fraction || t.about.percent() && !h.has("number") && !(h.has("nauplii") && !h.has("hatched"))
	switch {
	case h.has("hatched"), h.has("nauplii"):
		c.stage = evidence.StageHatching
	case h.has("emerged"):
		c.stage = evidence.StageEmergence
	case t.about.has("hatched"), t.about.has("nauplii"):
		c.stage = evidence.StageHatching
	case t.about.has("emerged"):
		c.stage = evidence.StageEmergence
	}
	if !c.saysOutcome() {
		return
	}
	c.given = nil
	for i := range h.qs {
		q := &h.qs[i]
		if q.Kind == quantity.Duration && h.has("within") && !q.Ordinal {
			if list := ofQuantity(evidence.TimeToHatch, q); len(list) == 1 && list[0].high != nil {
				list[0].low = nil
				c.until = &list[0]
			}
			return
		}
	}
	c.given = h.treatments(t.unsaid, false)
}

// isGroup reports whether numbers below a head without known words count
// hatching in eggs of one origin.
func (t *Table) isGroup(c *column, k int) bool {
	if len(c.names) > 0 {
		return t.isNumeric(k)
	}
	return t.isNumeric(k) && strings.TrimSpace(c.head.text) != "" && !c.head.has("foreign") && !c.head.has("stat") &&
		!c.head.has("count") && !c.head.has("number") && len(c.head.qs) == 0
}

// classifyGroup makes c a column of outcomes in eggs of one origin, or at the
// level that the caption gives for its head in brackets.
func (t *Table) classifyGroup(c *column) {
	t.classifyOutcome(c)
	label := strings.ToLower(strings.TrimSpace(c.head.text))
	for i, part := range t.caption {
		at := strings.Index(strings.ToLower(part.wording.text), label)
		if at < 0 || len(label) < 3 {
			continue
		}
		for n := range part.wording.qs {
			q := &part.wording.qs[n]
			gap := q.Start - at - len(label)
			if gap < 1 || gap > 3 || !strings.ContainsAny(part.wording.text[at+len(label):q.Start], "(=,") {
				continue
			}
			if f := part.wording.temperature(q, span{q.Start, q.End}, true); q.Kind == quantity.Temperature && f != "" {
				c.given = ofQuantity(f, q)
				t.legend[span{i, q.Start}] = true
				return
			}
		}
	}
	if len(c.names) == 0 {
		c.group = label
	}
}

// classifyFactor finds the factor whose levels a column of numbers holds.
func (t *Table) classifyFactor(c *column, unit string, kind quantity.Kind) bool {
	h := &c.head
	c.unit = unit
	switch kind {
	case quantity.Duration:
		c.factor = h.length(span{0, len(h.text)}, t.unsaid, false)
	case quantity.Temperature:
		switch {
		case h.has("cold"):
			c.factor = evidence.ColdTemperature
		case !h.has("dry") && !h.has("store"):
			c.factor = evidence.WarmTemperature
		}
	case quantity.Conductivity:
		c.factor = evidence.Conductivity
	case quantity.Oxygen:
		c.factor = evidence.Oxygen
	case quantity.Salinity:
		c.factor = evidence.Salinity
	case quantity.Acidity:
		c.factor = evidence.PH
	}
	switch {
	case c.factor != "":
	case h.has("salinity") && unit != "":
		c.factor, c.before = evidence.Salinity, "salinity of "
	case h.has("oxygen") && kind == quantity.Other && unit != "":
		c.factor, c.before = evidence.Oxygen, "dissolved oxygen "
	case h.has("ph") && unit == "":
		c.factor, c.before = evidence.PH, "pH "
	case h.has("photoperiod") && unit == "":
		c.factor = evidence.Light
	}
	if kind == quantity.Salinity && c.factor == evidence.Salinity && c.before == "" {
		c.before = "salinity of "
	}
	if c.factor == evidence.Oxygen && c.before == "" {
		c.before = "dissolved oxygen "
	}
	return c.factor != ""
}

// bareUnit finds the unit that a head names for the numbers below it: the unit
// in brackets before one elsewhere, none that belongs to a number of the head.
func (c *column) bareUnit() (string, quantity.Kind) {
	free := []byte(c.head.text)
	for _, q := range c.head.qs {
		for i := q.Start; i < q.End; i++ {
			free[i] = ' '
		}
	}
	text := string(free)
	var tries []string
	if _, rest, ok := strings.Cut(text, "("); ok {
		in, _, _ := strings.Cut(rest, ")")
		tries = append(tries, in)
		tries = append(tries, strings.FieldsFunc(in, func(r rune) bool { return unicode.IsSpace(r) || r == ',' })...)
	}
	tries = append(tries, strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("()[],;:", r) })...)
	for _, unit := range tries {
		if kind, ok := unitKind(strings.TrimSuffix(strings.TrimSpace(unit), ".")); ok {
			return strings.TrimSpace(unit), kind
		}
	}
	return "", ""
}

// measured returns the unit and kind of the numbers in the column: as the head has
// them, else as the cells print them.
func (c *column) measured() (string, quantity.Kind) {
	if unit, kind := c.bareUnit(); kind != "" {
		return unit, kind
	}
	if c.printed.kind == quantity.Fraction {
		return "", "" // of what, only the head can say
	}
	return c.printed.unit, c.printed.kind
}

// unitKind returns the kind of quantity that a number with the unit is.
func unitKind(unit string) (quantity.Kind, bool) {
	if unit == "" || strings.EqualFold(unit, "ph") {
		return "", false
	}
	for _, q := range quantity.Find("5 " + unit) {
		if q.Start == 0 && q.End == len("5 "+unit) && q.Kind != quantity.Count && q.Kind != quantity.Length {
			return q.Kind, true
		}
	}
	return "", false
}

// isNumeric reports whether most cells of column k that hold anything begin
// with a number.
func (t *Table) isNumeric(k int) bool {
	numbers, filled := 0, 0
	for _, row := range t.rows {
		if k >= len(row.cells) {
			continue
		}
		text := strings.TrimSpace(t.page.Text[row.cells[k].start:row.cells[k].end])
		if text == "" || isDash(text) {
			continue
		}
		filled++
		if isValue(text) {
			numbers++
		}
	}
	return filled > 0 && 3*numbers > 2*filled
}

// isValue reports whether a cell is a number with at most its spread, its
// sign or its unit.
func isValue(text string) bool {
	letters, digits := 0, 0
	for _, r := range text {
		switch {
		case unicode.IsDigit(r):
			digits++
		case unicode.IsLetter(r):
			letters++
		}
	}
	first := strings.TrimLeft(text, "<>≤≥~–−- ")
	return digits > 0 && letters <= 2+digits && first != "" && unicode.IsDigit(rune(first[0]))
}

func isDash(text string) bool { return strings.Trim(text, "-–—.· ") == "" }

// measure is a unit and the kind of quantity that it makes of a number.
type measure struct {
	unit string
	kind quantity.Kind
}

// printedMeasure returns the unit that the cells of column k print behind their
// numbers ("8 °C", "6 weeks"), where most that hold anything are such quantities and
// all of one kind.
func (t *Table) printedMeasure(k int) (m measure) {
	whole, filled := 0, 0
	for _, row := range t.rows {
		if k >= len(row.cells) {
			continue
		}
		text := t.page.Text[row.cells[k].start:row.cells[k].end]
		if strings.TrimSpace(text) == "" || isDash(text) {
			continue
		}
		filled++
		is := measureOf(text)
		if is.kind == "" {
			continue
		}
		if whole > 0 && is.kind != m.kind {
			return measure{}
		}
		m = is
		whole++
	}
	if 3*whole <= 2*filled {
		return measure{}
	}
	return m
}

// measureOf returns the measure of a cell that holds one quantity with its unit and
// nothing else but marks of notes.
func measureOf(text string) measure {
	text = strings.TrimSpace(strings.TrimRight(text, noteMarks+" "))
	unit := strings.TrimSpace(text[strings.LastIndexFunc(text, unicode.IsDigit)+1:])
	for _, q := range quantity.Find(text) {
		switch {
		case q.Start != 0, q.End != len(text), unit == "", len(q.Items) != 1, q.Difference, q.Ordinal, q.Implied, q.Of != nil:
		case q.Kind == quantity.Count, q.Kind == quantity.Length, q.Kind == quantity.Photoperiod:
		default:
			return measure{unit, q.Kind}
		}
	}
	return measure{}
}

// level reads the value of a cell in the unit of its column.
func (t *Table) level(c *column, cell span) *treatment {
	text := t.page.Text[cell.start:cell.end]
	if strings.TrimSpace(text) == "" || isDash(text) || t.page.Marked(ingest.Untrusted, cell.start, cell.end) {
		return nil
	}
	if c.factor == evidence.Light {
		for _, q := range quantity.Find("photoperiod " + text) {
			if list := ofQuantity(evidence.Light, &q); q.Kind == quantity.Photoperiod && len(list) == 1 {
				return &list[0]
			}
		}
		return nil
	}
	bare, unit := plain(text), c.unit
	if measureOf(text).kind != "" { // the cell has its unit
		bare, unit = strings.TrimRight(strings.TrimSpace(text), noteMarks), ""
	}
	for _, q := range quantity.Find(strings.TrimSpace(c.before + bare + " " + unit)) {
		list := ofQuantity(c.factor, &q)
		m, _ := evidence.MeasureOf(c.factor)
		if len(list) == 1 && (len(m.Units) == 0 || slices.Contains(m.Units, list[0].unit)) {
			list[0].printed = strings.TrimSpace(text + " " + unit)
			if c.factor == evidence.WarmTemperature && list[0].high != nil && *list[0].high <= 0 {
				list[0].factor = evidence.Freezing
			}
			return &list[0]
		}
	}
	return nil
}

// noteMarks lead from a number to a note below the table.
const noteMarks = "*†‡§"

// plain drops the letters and stars of notes behind a cell's number.
func plain(text string) string {
	return strings.TrimSpace(strings.TrimRightFunc(text, func(r rune) bool {
		return strings.ContainsRune(noteMarks, r) || unicode.IsLower(r) || unicode.Is(unicode.No, r) || r == ','
	}))
}

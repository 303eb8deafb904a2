package table

import (
	"slices"
	"strings"
	"unicode"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
)

// stand turns a table that lies, whose levels run along its first line and whose
// outcomes are named down the side, so that each level has a row:
//
//	Salinity (g/L)   0.5   3        Salinity (g/L)   Eggs hatched
//	Eggs hatched      61   4        0.5              61
//	                                3                4
//
// A claim still quotes the line that its value stands in. One that lies otherwise
// stays as it is.
func (r *Reader) stand(t *Table) {
	for _, lang := range append([]string{t.Lang}, r.langs...) {
		if lex := r.heads[lang]; lex != nil && t.lies(lex) {
			rows := t.block.Rows
			t.block.Rows = make([]ingest.Row, len(rows[0].Cells))
			for k := range t.block.Rows {
				t.block.Rows[k].Head = k == 0
				for _, row := range rows {
					t.block.Rows[k].Cells = append(t.block.Rows[k].Cells, row.Cells[k])
				}
			}
			for _, row := range rows {
				first, last := row.Cells[0], row.Cells[len(row.Cells)-1]
				t.lines = append(t.lines, trim(t.page.Text, first.Start, last.End))
			}
			return
		}
	}
}

// lies reports whether the first line has a head with a unit and bare numbers behind
// it, and each line below a name and numbers; one of the names is that of an outcome.
func (t *Table) lies(lex *lexicon.Lexicon) bool {
	const leastLevels = 2
	rows := t.block.Rows
	n := len(rows[0].Cells)
	if len(rows) < 2 || n <= leastLevels {
		return false
	}
	outcome := false
	for i, row := range rows {
		if len(row.Cells) != n || i > 0 && row.Head || slices.ContainsFunc(row.Cells[1:], t.noNumber) {
			return false
		}
		c := column{head: readWording(t.page.Text[row.Cells[0].Start:row.Cells[0].End], lex)}
		_, kind := c.bareUnit()
		switch {
		case len(c.head.qs) > 0, !strings.ContainsFunc(c.head.text, unicode.IsLetter):
			return false
		case i == 0 && (kind == "" || c.saysOutcome() || kind == quantity.Duration && c.head.onlyLength() == ""):
			return false // such as the days of one watch
		}
		outcome = outcome || i > 0 && c.saysOutcome()
	}
	return outcome
}

func (t *Table) noNumber(c ingest.Cell) bool {
	text := strings.TrimSpace(t.page.Text[c.Start:c.End])
	return !isValue(text) && (text == "" || !isDash(text))
}

package fulltext

import (
	"regexp"
	"strconv"
	"strings"

	"hatchlore/evidence"
	"hatchlore/ingest"
)

// LeastWords is how many words a quote has that says something by itself. Our
// own judgement, no source.
const LeastWords = 5

// Words tells a claim as a reader of its page would quote it: a cell or row of
// a table with the heads of its columns ("days at 4 °C 30 · fen 61", "never
// dried: 0 · 0 · 41"), a scrap of a sentence with the whole of it. table
// reports the first. Any other claim is told by its quote.
func Words(page ingest.Page, c evidence.Claim) (words string, table bool) {
	if s := tableWords(page, c); s != "" {
		return s, true
	}
	if len(strings.Fields(c.Quote)) < LeastWords {
		if s := sentenceAround(page, c); s != "" {
			return s, false
		}
	}
	return c.Quote, false
}

// sentenceAround is the sentence of the page's block in which a claim stands.
func sentenceAround(page ingest.Page, c evidence.Claim) string {
	start, end := bytesOf(page.Text, c.Start, c.End)
	for _, b := range page.Blocks {
		if start < b.Start || end > b.End || start == end {
			continue
		}
		at := b.Start
		for s := range sentences(page.Text[b.Start:b.End]) {
			if at += len(s); at >= end {
				return strings.Join(strings.Fields(s), " ")
			}
		}
	}
	return ""
}

// tableWords tells a claim that stands in a table of its page, "" another.
func tableWords(page ingest.Page, c evidence.Claim) string {
	start, end := bytesOf(page.Text, c.Start, c.End)
	for _, b := range page.Blocks {
		if start < b.Start || end > b.End {
			continue
		}
		t := printedTable{page.Text, b.Rows}
		for i, r := range b.Rows {
			for k, cell := range r.Cells {
				if cell.Start == cell.End || end <= cell.Start || start >= cell.End {
					continue
				}
				if r.Head {
					return t.column(k)
				}
				return t.row(i)
			}
		}
	}
	return ""
}

// eggsEach finds how many eggs each row of a table had, as captions say it:
// "% of 240 eggs", "from 400 eggs in each", "je 160 Eier", "250 œufs par
// ligne". Dishes and flasks of so many eggs are none: a row has several.
var eggsEach = regexp.MustCompile(`(?i)(?:(?:%|per cent|percent|prozent) (?:of|von|de|di|dei) (?:the )?(\d{1,6}) (?:eggs|cysts|eier|zysten|œufs|cystes|huevos|quistes|ovos|cistos|uova|cisti)|` +
	`from (\d{1,6}) (?:eggs|cysts)(?: of [\pL. ]+?)? in each|\bje (\d{1,6}) (?:eier|zysten)\b|(\d{1,6}) (?:œufs|cystes) par (?:ligne|traitement)|(?:of|from) (\d{1,6}) (?:eggs|cysts) (?:in each|per|a) (?:row|treatment))`)

// EggsEach returns how many eggs the fractions of the table are of in which a
// claim stands, as its caption tells; 0 where that is not told, or the claim
// stands in no table.
func EggsEach(page ingest.Page, c evidence.Claim) int {
	start, end := bytesOf(page.Text, c.Start, c.End)
	for i, b := range page.Blocks {
		if b.Kind != ingest.Table || start < b.Start || end > b.End {
			continue
		}
		for _, k := range []int{i - 1, i + 1} {
			if k < 0 || k >= len(page.Blocks) || page.Blocks[k].Kind != ingest.Caption {
				continue
			}
			text := strings.Join(strings.Fields(page.Text[page.Blocks[k].Start:page.Blocks[k].End]), " ")
			for _, n := range eggsEach.FindStringSubmatch(text) {
				if v, err := strconv.Atoi(n); err == nil {
					return v
				}
			}
		}
	}
	return 0
}

// bytesOf turns a span of code points into one of bytes.
func bytesOf(text string, first, past int) (start, end int) {
	n := 0
	start, end = len(text), len(text)
	for i := range text {
		if n == first {
			start = i
		}
		if n == past {
			return start, i
		}
		n++
	}
	return start, end
}

// printedTable is a table of a page.
type printedTable struct {
	text string
	rows []ingest.Row
}

const cellGap = " · "

// row tells a row, each cell behind the head of its column.
func (t printedTable) row(i int) string {
	var out []string
	for k := range t.rows[i].Cells {
		if s := strings.TrimSpace(t.head(k) + " " + t.cell(i, k)); s != "" {
			out = append(out, s)
		}
	}
	return strings.Join(out, cellGap)
}

// column tells a head and the cells below it.
func (t printedTable) column(k int) string {
	var below []string
	for i, r := range t.rows {
		if s := t.cell(i, k); !r.Head && s != "" {
			below = append(below, s)
		}
	}
	return t.head(k) + ": " + strings.Join(below, cellGap)
}

// head is what the heads of a column say, one below the other.
func (t printedTable) head(k int) string {
	var parts []string
	for i, r := range t.rows {
		if s := t.cell(i, k); r.Head && s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, " ")
}

// cell is the text of a cell, "" where a row has none there.
func (t printedTable) cell(i, k int) string {
	if k >= len(t.rows[i].Cells) {
		return ""
	}
	c := t.rows[i].Cells[k]
	return strings.Join(strings.Fields(t.text[c.Start:c.End]), " ")
}

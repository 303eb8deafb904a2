package taxon

import (
	"math"
	"strings"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/species/table"
)

// strokes draw what a value did: a sign at each end and a line between. They
// differ in shape, so that no colour is needed.
type strokes struct{ end, line rune }

var strokesOf = map[evidence.Bearing]strokes{
	evidence.Favours:     {'●', '━'},
	evidence.Prevents:    {'×', '╌'},
	evidence.Indifferent: {'○', '─'},
	evidence.Reported:    {'|', '-'},
}

const (
	track     = '·' // where nothing stands
	openBelow = '◂'
	openAbove = '▸'
)

const chartNote = "bars: ●━● favours, ×╌× prevents, ○─○ indifferent, |-| reported; ◂ ▸ an open end; a scale marked log is logarithmic"

// wideRatio is how many times the least value the greatest may be before a
// scale is better logarithmic. Our own judgement, no source.
const wideRatio = 50

// rangeChart places the values of one factor on a line of text.
type rangeChart struct {
	cells     int
	unit      string
	low, high float64
	log       bool
}

// chartOf returns the chart for rows of one factor; ok is false where there
// are not two different numbers in one unit to show.
func chartOf(rows []table.Row, cells int) (c rangeChart, ok bool) {
	c = rangeChart{cells: cells, unit: commonUnit(rows), low: math.Inf(1), high: math.Inf(-1)}
	for _, r := range rows {
		for _, v := range []*float64{r.Low, r.High} {
			if v != nil && r.Unit == c.unit {
				c.low, c.high = min(c.low, *v), max(c.high, *v)
			}
		}
	}
	c.log = c.low > 0 && c.high > wideRatio*c.low
	return c, c.low < c.high
}

// commonUnit is the unit of most rows.
func commonUnit(rows []table.Row) string {
	count := map[string]int{}
	best := ""
	for _, r := range rows {
		if r.Low == nil && r.High == nil {
			continue
		}
		if count[r.Unit]++; count[r.Unit] > count[best] {
			best = r.Unit
		}
	}
	return best
}

// cell is where a value stands, from 0.
func (c rangeChart) cell(v float64) int {
	at := (v - c.low) / (c.high - c.low)
	if c.log {
		at = math.Log(v/c.low) / math.Log(c.high/c.low)
	}
	return min(max(int(math.Round(at*float64(c.cells-1))), 0), c.cells-1)
}

// scale is the line above the bars: the ends of the scale and its unit.
func (c rangeChart) scale() string {
	left := quantity.FormatRange(&c.low, &c.low, "")
	right := quantity.FormatRange(&c.high, &c.high, quantity.Unit(c.unit))
	if c.log {
		left += string(track) + "log"
	}
	free := c.cells - utf8.RuneCountInString(left+right)
	if free < 1 {
		return quantity.FormatRange(&c.low, &c.high, quantity.Unit(c.unit))
	}
	return left + strings.Repeat(string(track), free) + right
}

// bar draws a claim's value; a claim without a number in the chart's unit has
// none.
func (c rangeChart) bar(k evidence.Claim) string {
	if k.Unit != c.unit || k.Low == nil && k.High == nil {
		return ""
	}
	line := []rune(strings.Repeat(string(track), c.cells))
	s, known := strokesOf[k.Bearing]
	if !known {
		s = strokesOf[evidence.Reported]
	}
	from, to := 0, c.cells-1
	first, last := openBelow, openAbove
	if k.Low != nil {
		from, first = c.cell(*k.Low), s.end
	}
	if k.High != nil {
		to, last = c.cell(*k.High), s.end
	}
	for i := from; i <= to; i++ {
		line[i] = s.line
	}
	line[from], line[to] = first, last
	if from == to {
		line[from] = s.end
	}
	return string(line)
}

package sheet

import (
	"cmp"
	"math"
	"slices"

	"hatchlore/ingest/line"
)

// Manuscripts and proofs number their lines in the margin, each or every fifth.
// Such a number stands on one line with the text, and would run into it.

// How many numbers in a row make line numbers: where each line has one, and where
// every fifth has.
const (
	eachLine  = 8
	fifthLine = 3
)

// marginStep is how far the edges of line numbers lie apart at most, in points.
const marginStep = 3

// numbered is a strip that begins or ends with a number of at most four digits, or
// is one.
type numbered struct {
	strip     *line.Strip
	number    int
	from, to  int // its glyphs
	x0, x1    float64
	moreCells bool // the rest of the strip has gaps, as rows of tables do
}

// cutLineNumbers takes the numbers of lines off the text and out of it.
func (p *Sheet) cutLineNumbers() {
	left, right := func(n numbered) float64 { return n.x0 }, func(n numbered) float64 { return n.x1 }
	for _, atEnd := range []bool{false, true} {
		for _, edge := range []func(numbered) float64{left, right} {
			for _, column := range columnsBy(edge, p.numberedStrips(atEnd)) {
				if p.countsLines(column) {
					p.cutNumbers(column)
				}
			}
		}
	}
}

// columnsBy groups numbers that are flush at an edge.
func columnsBy(edge func(numbered) float64, found []numbered) (out [][]numbered) {
	slices.SortStableFunc(found, func(a, b numbered) int { return cmp.Compare(edge(a), edge(b)) })
	for i, n := range found {
		if i == 0 || edge(n)-edge(found[i-1]) > marginStep {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], n)
	}
	return out
}

// numberedStrips finds the strips that have a number at their beginning, or at
// their end.
func (p *Sheet) numberedStrips(atEnd bool) []numbered {
	var out []numbered
	for _, s := range p.Strips {
		if s.Sideways || s.Furniture {
			continue
		}
		if n, ok := numberOf(s, atEnd); ok {
			out = append(out, n)
		}
	}
	return out
}

func numberOf(s *line.Strip, atEnd bool) (numbered, bool) {
	isDigit := func(i int) bool { r := s.Glyphs[i].Rune; return r >= '0' && r <= '9' && !s.Glyphs[i].Coded }
	n := numbered{strip: s, to: len(s.Glyphs)}
	if atEnd {
		for n.from = n.to; n.from > 0 && isDigit(n.from-1); n.from-- {
		}
	} else {
		for n.to = 0; n.to < len(s.Glyphs) && isDigit(n.to); n.to++ {
		}
	}
	if n.from == n.to || n.to-n.from > 4 {
		return n, false
	}
	for _, g := range s.Glyphs[n.from:n.to] {
		n.number = 10*n.number + int(g.Rune-'0')
	}
	own := 0
	switch {
	case n.from == 0 && n.to == len(s.Glyphs):
	case atEnd && s.Glyphs[n.from-1].Rune == '\t', !atEnd && s.Glyphs[n.to].Rune == '\t':
		own = 1
	case atEnd || s.Glyphs[n.to].Rune != ' ':
		return n, false
	}
	n.moreCells = s.Gaps() > own
	n.x0, n.x1 = s.Glyphs[n.from].X0, s.Glyphs[n.to-1].X1
	return n, true
}

// countsLines reports whether numbers below one another count the lines of a text,
// and are no levels in a column of a table: as many lines stand between them as they
// say and, where that is none, running text beside them.
func (p *Sheet) countsLines(column []numbered) bool {
	if len(column) < fifthLine {
		return false
	}
	slices.SortStableFunc(column, func(a, b numbered) int { return cmp.Compare(a.strip.Base, b.strip.Base) })
	step := column[1].number - column[0].number
	need := eachLine
	if step == 5 || step == 10 {
		need = fifthLine
	}
	rows, lines := 0, 0
	for i, n := range column {
		if i > 0 && (n.number-column[i-1].number != step || n.strip.Base-column[i-1].strip.Base < 0.5*n.strip.Size ||
			p.linesBetween(column[i-1].strip, n.strip) < step/2) {
			return false
		}
		if n.moreCells {
			rows++
		}
		if p.besideLine(n) {
			lines++
		}
	}
	return len(column) >= need && (step == 1 && 2*lines > len(column) || step == 5 || step == 10) && 3*rows < len(column)
}

// besideLine reports whether a number stands on one line with running text.
func (p *Sheet) besideLine(n numbered) bool {
	glyphs := 0
	for _, s := range p.Strips {
		if math.Abs(s.Base-n.strip.Base) < 0.3*n.strip.Size {
			glyphs += len(s.Glyphs)
		}
	}
	return glyphs-(n.to-n.from) >= twinGlyphs
}

// linesBetween counts the lines that stand below a and above b.
func (p *Sheet) linesBetween(a, b *line.Strip) int {
	n, last := 0, a.Base
	var bases []float64
	for _, s := range p.Strips {
		if s.Base > a.Base && s.Base < b.Base {
			bases = append(bases, s.Base)
		}
	}
	slices.Sort(bases)
	for _, base := range append(bases, b.Base) {
		if base-last > 0.5*a.Size {
			n, last = n+1, base
		}
	}
	return n - 1 // b itself is none
}

// cutNumbers parts the numbers from their lines and takes them out of the text.
func (p *Sheet) cutNumbers(column []numbered) {
	of := map[*line.Strip]numbered{}
	for _, n := range column {
		of[n.strip] = n
	}
	var out []*line.Strip
	for _, s := range p.Strips {
		n, ok := of[s]
		switch {
		case !ok:
			out = append(out, s)
		case n.from == 0 && n.to == len(s.Glyphs):
			s.Furniture = true
			out = append(out, s)
		case n.from == 0:
			number, rest := s.Cut(n.to, n.to+1)
			number.Furniture = true
			out = append(out, number, rest)
		default:
			rest, number := s.Cut(n.from-1, n.from)
			number.Furniture = true
			out = append(out, rest, number)
		}
	}
	p.Strips = out
}

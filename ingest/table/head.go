package table

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"

	"hatchlore/ingest/line"
	"hatchlore/ingest/prose"
)

// AddHeads puts lines that stand above the table, or beside its first row, into it
// as its heads, those on one height as one row, and returns all rows.
func (g *Grid) AddHeads(heads, rows []*line.Strip, codes line.Codes) []*line.Strip {
	if !g.sure {
		g.HeadRows = 0 // the first row was a guess
	}
	first := rows[0]
	if g.HeadRows > 0 && slices.ContainsFunc(heads, func(s *line.Strip) bool { return math.Abs(s.Base-first.Base) < sameRow*first.Size }) {
		heads, rows = append(slices.Clone(heads), first), rows[1:]
		g.Rows, g.HeadRows = g.Rows[1:], g.HeadRows-1
	}
	heads = level(heads)
	spans := make([][]Run, len(heads))
	for i, s := range heads {
		s.Repair(codes)
		retab(s, g.columns, codes)
		spans[i], _ = spread(s, g.columns)
	}
	g.Rows, g.HeadRows = append(spans, g.Rows...), g.HeadRows+len(heads)
	return append(heads, rows...)
}

// IsHead reports whether a line holds a head for each column: it has a wide space
// between every two.
func (g *Grid) IsHead(s *line.Strip) bool {
	middle := func(e extent) float64 { return (e.x0 + e.x1) / 2 }
	k := 1
	for i := 0; i < len(s.Glyphs) && k < len(g.columns); i++ {
		b := &s.Glyphs[i]
		if (b.Rune == ' ' || b.Rune == '\t') && b.X1-b.X0 >= riverGap*s.Size && b.X1 > middle(g.columns[k-1]) && b.X0 < middle(g.columns[k]) {
			k++
		}
	}
	return k == len(g.columns)
}

// sameRow is how far the baselines of pieces of one row lie apart at most, in sizes.
const sameRow = 0.4

// level puts strips that stand side by side together, from the left, and the rows
// in order from the top.
func level(strips []*line.Strip) []*line.Strip {
	strips = slices.Clone(strips)
	slices.SortStableFunc(strips, func(a, b *line.Strip) int { return cmp.Compare(a.Base, b.Base) })
	var out [][]*line.Strip
	for _, s := range strips {
		if n := len(out); n > 0 && s.Base-out[n-1][0].Base < sameRow*s.Size {
			out[n-1] = append(out[n-1], s)
			continue
		}
		out = append(out, []*line.Strip{s})
	}
	rows := make([]*line.Strip, len(out))
	for i, pieces := range out {
		slices.SortStableFunc(pieces, func(a, b *line.Strip) int { return cmp.Compare(a.X0, b.X0) })
		rows[i] = pieces[0]
		for _, p := range pieces[1:] {
			rows[i].AbsorbCell(p)
		}
	}
	return rows
}

// spanOff is by how much a head is off its column's middle and edges, in sizes, when
// it stands over several. One that is set in the middle of its column stands over the
// neighbours too only where it reaches over them.
const spanOff = 0.75

// Finish gives every column below a head that stands over several its head, and puts
// the lines of heads that each stand over one column together. It returns the rows
// that are left.
func (g *Grid) Finish(rows []*line.Strip, codes line.Codes) []*line.Strip {
	first := 0 // the first row whose heads stand over one column each
	for i := range min(g.HeadRows, len(rows)) {
		if g.spanRow(i, rows[i]) {
			first = i + 1
		}
	}
	if g.HeadRows-first < 2 || g.HeadRows > len(rows) {
		return rows
	}
	g.Head = make([][]*line.Strip, len(g.columns))
	for i, s := range rows[first:g.HeadRows] {
		pieces := s.Pieces()
		for _, p := range pieces {
			p.Repair(codes)
		}
		for k, r := range g.Rows[first+i] {
			g.Head[k] = append(g.Head[k], pieces[r.First:r.Last]...)
		}
	}
	g.Rows = slices.Delete(g.Rows, first, g.HeadRows)
	rows = slices.Delete(slices.Clone(rows), first, g.HeadRows)
	g.HeadRows = first
	return rows
}

// spanRow gives the columns of the i-th row the heads that stand over them, and
// reports whether any stands over several.
func (g *Grid) spanRow(i int, s *line.Strip) (any bool) {
	row, cells := g.Rows[i], extents(s)
	spanned := slices.Clone(row)
	for k, r := range row {
		if r.Last != r.First+1 || r.First >= len(cells) {
			continue
		}
		from, to := g.spanOf(cells[r.First], k, row, spanOff*s.Size)
		for c := from; c < to; c++ {
			spanned[c] = r
		}
		any = any || to-from > 1
	}
	g.Rows[i] = spanned
	return any
}

// spanOf returns the columns, from the first to before the last, over which a head
// stands that was put above the k-th: those about it without heads of their own
// in whose middle it is set.
func (g *Grid) spanOf(e extent, k int, row []Run, near float64) (from, to int) {
	own := g.columns[k]
	middle := func(a, b float64) float64 { return (a + b) / 2 }
	off := func(a, b float64) bool { return math.Abs(a-b) > near }
	fits := !off(middle(e.x0, e.x1), middle(own.x0, own.x1)) || !off(e.x0, own.x0) || !off(e.x1, own.x1)
	overhangs := k > 0 && e.x0 < g.columns[k-1].x1 || k+1 < len(g.columns) && e.x1 > g.columns[k+1].x0
	if fits && !overhangs {
		return k, k + 1
	}
	free := func(c int) bool { return c == k || c > 0 && c < len(row) && row[c].First == row[c].Last }
	best := 1
	from, to = k, k+1
	for a := k; free(a); a-- {
		for b := k; free(b); b++ {
			if n := b + 1 - a; n > best && !off(middle(e.x0, e.x1), middle(g.columns[a].x0, g.columns[b].x1)) {
				from, to, best = a, b+1, n
			}
			if b+1 == len(row) {
				break
			}
		}
		if a == 0 {
			break
		}
	}
	return from, to
}

// headRows counts the rows above the first that is mostly numbers, without units
// where any row has such. A table without numbers has one head, unless heads stand
// above it; sure is false.
func headRows(rows []*line.Strip) (n int, sure bool) {
	for _, isNumber := range []func(string) bool{isBare, startsWithDigit} {
		for i, s := range rows {
			numbers, filled := 0, 0
			for _, c := range s.Cells {
				cell := s.Text[c.Start:c.End]
				if isNumber(cell) {
					numbers++
				}
				if !isDash(cell) {
					filled++
				}
			}
			if 2*numbers >= filled && (numbers > 0 || filled == 0) {
				return min(i, maxHeads), true
			}
		}
	}
	return 1, false
}

// aboveLabels counts the heads without the lines below them that name the first rows:
// they stand alone at the left edge and reach over the first column, or there are more
// of them further down.
func (g *Grid) aboveLabels(rows []*line.Strip) int {
	label := func(s *line.Strip) bool { return len(s.Cells) == 1 && atLeft(s, g.columns) }
	n := g.HeadRows
	for n > 1 && len(rows[0].Cells) > 1 && label(rows[n-1]) &&
		(rows[n-1].X1 > g.columns[0].x1+rows[n-1].Size || slices.ContainsFunc(rows[n:], label)) {
		n--
	}
	return n
}

// maxHeads is how many rows of heads a table has at most.
const maxHeads = 3

// isDash reports whether a cell only says that there is nothing: that makes no head.
func isDash(cell string) bool { return cell != "" && strings.Trim(cell, "-–—−. ") == "" }

func startsWithDigit(cell string) bool { return unicode.IsDigit(prose.FirstLetter(cell)) }

// isBare reports whether a cell is a number alone: perhaps with its spread, a range
// or a letter that sends to a note, but without a unit.
func isBare(cell string) bool {
	cell = strings.TrimRight(cell, "abcdefgh*†‡§ ")
	return cell != "" && startsWithDigit(cell) && strings.Trim(cell, "0123456789 .,·±()[]%–−+-<>≤≥~/¹²³⁴⁵⁶⁷⁸⁹⁰½¼¾\u202F") == ""
}

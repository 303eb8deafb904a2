// Package table finds tables without rules among the lines of a page, by the gaps
// that stand one over the other, and says which cell belongs to which column.
//
// It refuses a table to fewer than three lines, and to lines whose cells do not
// line up. It does not say what a cell means.
package table

import (
	"math"
	"slices"

	"hatchlore/ingest/line"
	"hatchlore/ingest/sheet"
)

// Grid is a table: for each of its rows the cells of a strip by column.
type Grid struct {
	columns  []extent
	HeadRows int             // rows that are heads
	Head     [][]*line.Strip // of each column, below those: the lines of its head, where heads have several
	sure     bool            // the heads were told by the numbers below them
	Rows     [][]Run         // row → column → the strip's cells that stand there
}

// Run is a row of neighbouring cells of a strip, from first to before last;
// none when they are equal.
type Run struct{ First, Last int }

// extent is a stretch of the page's width.
type extent struct{ x0, x1 float64 }

// minRows is the least number of lines that make a table.
const minRows = 3

// At reports whether a table without rules begins at the i-th strip: lines
// with gaps that stand one over the other. It returns its grid and how many
// strips it takes.
func At(p *sheet.Sheet, i int) (*Grid, int) {
	n := rowsFrom(p, i)
	if n < minRows {
		return nil, 0
	}
	rows := p.Strips[i : i+n]
	openRivers(p, rows)
	columns := columnsOf(rows)
	if len(columns) < 2 {
		return nil, 0
	}
	for _, s := range rows {
		retab(s, columns, p.Codes)
	}
	g := &Grid{columns: columns}
	aligned := 0
	for _, s := range rows {
		row, ok := spread(s, columns)
		if ok {
			aligned++
		}
		g.Rows = append(g.Rows, row)
	}
	if 4*aligned < 3*n {
		return nil, 0
	}
	g.HeadRows, g.sure = headRows(rows)
	g.HeadRows = g.aboveLabels(rows)
	return g, n
}

// rowsFrom counts the lines from the i-th on that may be rows of one table: one below
// the other, with gaps in all but single lines between.
func rowsFrom(p *sheet.Sheet, i int) int {
	if len(p.Strips[i].Cells) < 2 {
		return 0
	}
	last := i // the last line with gaps
	for k := i + 1; k < len(p.Strips); k++ {
		s, prev := p.Strips[k], p.Strips[k-1]
		down := s.Base - prev.Base
		if s.Sideways || down < 0.4*s.Size || down > 3*max(p.Leading, s.Size) {
			break
		}
		if len(s.Cells) >= 2 {
			last = k
		} else if k-last > 1 {
			break
		}
	}
	return last + 1 - i
}

// Spaces between these widths, in sizes, part two cells where the rows above and
// below have theirs at the same place.
const (
	riverGap = 0.9
	riverMax = 2.5
)

// openRivers puts cell gaps where most rows have a wide space at one place: in
// narrow tables neighbouring columns stand closer than cells elsewhere.
func openRivers(p *sheet.Sheet, rows []*line.Strip) {
	var wide [][]extent
	tabbed := 0
	for _, s := range rows {
		wide = append(wide, wideGaps(s))
		if len(s.Cells) > 1 {
			tabbed++
		}
	}
	need := max(minRows, (3*tabbed+3)/4)
	for _, s := range rows {
		changed := false
		for i := range s.Glyphs {
			g := &s.Glyphs[i]
			if g.Rune != ' ' || g.X1-g.X0 < riverGap*s.Size {
				continue
			}
			beside := 0
			for _, gaps := range wide {
				if slices.ContainsFunc(gaps, func(e extent) bool { return min(e.x1, g.X1)-max(e.x0, g.X0) > 0.3*s.Size }) {
					beside++
				}
			}
			if beside >= need {
				g.Rune, changed = '\t', true
			}
		}
		if changed {
			s.Repair(p.Codes)
		}
	}
}

// wideGaps returns where the strip has a space or gap that may be part of a river.
func wideGaps(s *line.Strip) (out []extent) {
	for i := range s.Glyphs {
		g := &s.Glyphs[i]
		if gap := g.X1 - g.X0; (g.Rune == ' ' || g.Rune == '\t') && gap >= riverGap*s.Size && gap <= riverMax*s.Size {
			out = append(out, extent{g.X0, g.X1})
		}
	}
	return out
}

// extents returns where each cell of the strip stands.
func extents(s *line.Strip) []extent {
	out := []extent{{s.X0, s.X0}}
	for i := range s.Glyphs {
		g := &s.Glyphs[i]
		if g.Rune == '\t' {
			out = append(out, extent{g.X1, g.X1})
			continue
		}
		e := &out[len(out)-1]
		e.x1 = max(e.x1, g.X1)
	}
	return out
}

// columnsOf finds the columns that the cells of most rows share: the stretches
// that remain apart when the rows with the usual number of cells are laid over
// one another.
func columnsOf(rows []*line.Strip) []extent {
	counts := map[int]int{}
	for _, s := range rows {
		if len(s.Cells) > 1 {
			counts[len(s.Cells)]++
		}
	}
	usual := line.Commonest(counts)
	if counts[usual] < 2 {
		return nil
	}
	var out, all []extent
	heads, _ := headRows(rows)
	for i, s := range rows {
		for _, e := range extents(s) {
			// A head may stand over several columns.
			if len(s.Cells) > 1 && (i >= heads || len(s.Cells) >= usual) {
				all = lay(all, e)
			}
			if len(s.Cells) == usual {
				out = lay(out, e)
			}
		}
	}
	// A first column that most rows leave empty shows only in all rows together.
	if len(all) > len(out) {
		out = all
	}
	if len(out) < usual {
		return nil
	}
	return out
}

// Gaps that may part neighbouring cells once the columns are known, in sizes: in
// the band between two columns, and elsewhere between their middles.
const (
	bandGap   = 0.45
	middleGap = 0.60
)

// retab puts cell gaps where the strip has a wide space between two columns:
// heads and long cells leave gaps too narrow to be seen as such before the
// columns are known.
func retab(s *line.Strip, columns []extent, codes line.Codes) {
	changed := false
	for k := 1; k < len(columns); k++ {
		if i := parting(s, columns[k-1], columns[k]); i >= 0 {
			s.Glyphs[i].Rune, changed = '\t', true
		}
	}
	if changed {
		s.Repair(codes)
	}
}

// parting returns the index of the space that best parts the strip's cells of
// two neighbouring columns, -1 when there is none or they are parted already.
func parting(s *line.Strip, a, b extent) int {
	from, to := (a.x0+a.x1)/2, (b.x0+b.x1)/2
	best, most, inBand := -1, middleGap*s.Size, false
	for i := range s.Glyphs {
		g := &s.Glyphs[i]
		if g.Rune != ' ' && g.Rune != '\t' || g.X1 < from || g.X0 > to {
			continue
		}
		gap, band := g.X1-g.X0, g.X0 < b.x0 && g.X1 > a.x1
		switch {
		case g.Rune == '\t' && (g.X1 <= a.x1 || g.X0 >= b.x0):
			// Before or behind a cell that fills its column in part.
		case g.Rune == '\t':
			return -1
		case band && !inBand && gap > bandGap*s.Size:
			best, most, inBand = i, gap, true
		case band == inBand && gap > most:
			best, most = i, gap
		}
	}
	return best
}

// lay adds an extent to those found, merging what overlaps. Extents stay in
// order from the left.
func lay(list []extent, e extent) []extent {
	var out []extent
	placed := false
	for _, o := range list {
		switch {
		case o.x1 < e.x0:
			out = append(out, o)
		case o.x0 > e.x1:
			if !placed {
				out = append(out, e)
				placed = true
			}
			out = append(out, o)
		default:
			e.x0, e.x1 = min(e.x0, o.x0), max(e.x1, o.x1)
		}
	}
	if !placed {
		out = append(out, e)
	}
	return out
}

// spread puts the cells of a row into columns; ok is false when several claim
// one column, which then holds them all.
func spread(s *line.Strip, columns []extent) (row []Run, ok bool) {
	row = make([]Run, len(columns))
	ok = true
	at := 0
	if len(s.Cells) == 1 && atLeft(s, columns) {
		row[0] = Run{0, 1} // it names the rows below, however long it is
		return row, true
	}
	for i, e := range extents(s) {
		best, most := at, -1e9
		for k := at; k < len(columns); k++ {
			if o := min(e.x1, columns[k].x1) - max(e.x0, columns[k].x0); o > most {
				best, most = k, o
			}
		}
		if row[best].Last > row[best].First {
			ok = false
			row[best].Last = i + 1
			continue
		}
		row[best] = Run{i, i + 1}
		at = best
	}
	return row, ok
}

// atLeft reports whether a row begins where the first column does.
func atLeft(s *line.Strip, columns []extent) bool { return math.Abs(s.X0-columns[0].x0) < s.Size }

// Edges returns the table's left and right edges.
func (g *Grid) Edges() (x0, x1 float64) { return g.columns[0].x0, g.columns[len(g.columns)-1].x1 }

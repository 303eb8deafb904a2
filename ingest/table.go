package ingest

import (
	"slices"
	"unicode"
)

// grid is a table: for each of its rows the cells of a strip by column.
type grid struct {
	columns []extent
	heads   int     // rows that are heads
	sure    bool    // the heads were told by the numbers below them
	rows    [][]run // row → column → the strip's cells that stand there
}

// run is a row of neighbouring cells of a strip, from first to before last;
// none when they are equal.
type run struct{ first, last int }

// extent is a stretch of the page's width.
type extent struct{ x0, x1 float64 }

// minRows is the least number of lines that make a table.
const minRows = 3

// tableAt reports whether a table without rules begins at the i-th strip: lines
// with gaps that stand one over the other. It returns its grid and how many
// strips it takes.
func (p *sheet) tableAt(i int) (*grid, int) {
	if len(p.strips[i].cells) < 2 {
		return nil, 0
	}
	n := 1
	for last := i; i+n < len(p.strips); n++ {
		s, prev := p.strips[i+n], p.strips[i+n-1]
		down := s.base - prev.base
		if s.sideways || down < 0.4*s.size || down > 3*max(p.leading, s.size) {
			break
		}
		if len(s.cells) < 2 && i+n-last > 1 {
			break
		}
		if len(s.cells) >= 2 {
			last = i + n
		}
	}
	for n > 0 && len(p.strips[i+n-1].cells) < 2 {
		n--
	}
	if n < minRows {
		return nil, 0
	}
	rows := p.strips[i : i+n]
	p.openRivers(rows)
	columns := columnsOf(rows)
	if len(columns) < 2 {
		return nil, 0
	}
	for _, s := range rows {
		s.retab(columns, p.codes)
	}
	g := &grid{columns: columns}
	aligned := 0
	for _, s := range rows {
		row, ok := spread(s, columns)
		if ok {
			aligned++
		}
		g.rows = append(g.rows, row)
	}
	if 4*aligned < 3*n {
		return nil, 0
	}
	g.heads, g.sure = headRows(rows)
	return g, n
}

// Spaces between these widths, in sizes, part two cells where the rows above and
// below have theirs at the same place.
const (
	riverGap = 0.9
	riverMax = 2.5
)

// openRivers puts cell gaps where most rows have a wide space at one place: in
// narrow tables neighbouring columns stand closer than cells elsewhere.
func (p *sheet) openRivers(rows []*strip) {
	var wide [][]extent
	tabbed := 0
	for _, s := range rows {
		wide = append(wide, s.wideGaps())
		if len(s.cells) > 1 {
			tabbed++
		}
	}
	need := max(minRows, (3*tabbed+3)/4)
	for _, s := range rows {
		changed := false
		for i := range s.glyphs {
			g := &s.glyphs[i]
			if g.r != ' ' || g.x1-g.x0 < riverGap*s.size {
				continue
			}
			beside := 0
			for _, gaps := range wide {
				if slices.ContainsFunc(gaps, func(e extent) bool { return min(e.x1, g.x1)-max(e.x0, g.x0) > 0.3*s.size }) {
					beside++
				}
			}
			if beside >= need {
				g.r, changed = '\t', true
			}
		}
		if changed {
			s.repair(p.codes)
			unglue(s)
		}
	}
}

// wideGaps returns where the strip has a space or gap that may be part of a river.
func (s *strip) wideGaps() (out []extent) {
	for i := range s.glyphs {
		g := &s.glyphs[i]
		if gap := g.x1 - g.x0; (g.r == ' ' || g.r == '\t') && gap >= riverGap*s.size && gap <= riverMax*s.size {
			out = append(out, extent{g.x0, g.x1})
		}
	}
	return out
}

// extents returns where each cell of the strip stands.
func (s *strip) extents() []extent {
	out := []extent{{s.x0, s.x0}}
	for i := range s.glyphs {
		g := &s.glyphs[i]
		if g.r == '\t' {
			out = append(out, extent{g.x1, g.x1})
			continue
		}
		e := &out[len(out)-1]
		e.x1 = max(e.x1, g.x1)
	}
	return out
}

// columnsOf finds the columns that the cells of most rows share: the stretches
// that remain apart when the rows with the usual number of cells are laid over
// one another.
func columnsOf(rows []*strip) []extent {
	counts := map[int]int{}
	for _, s := range rows {
		if len(s.cells) > 1 {
			counts[len(s.cells)]++
		}
	}
	usual := mode(counts)
	if counts[usual] < 2 {
		return nil
	}
	var out, all []extent
	for _, s := range rows {
		for _, e := range s.extents() {
			if len(s.cells) > 1 {
				all = lay(all, e)
			}
			if len(s.cells) == usual {
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
func (s *strip) retab(columns []extent, codes codeKind) {
	changed := false
	for k := 1; k < len(columns); k++ {
		if i := s.parting(columns[k-1], columns[k]); i >= 0 {
			s.glyphs[i].r, changed = '\t', true
		}
	}
	if changed {
		s.repair(codes)
		unglue(s)
	}
}

// parting returns the index of the space that best parts the strip's cells of
// two neighbouring columns, -1 when there is none or they are parted already.
func (s *strip) parting(a, b extent) int {
	from, to := (a.x0+a.x1)/2, (b.x0+b.x1)/2
	best, most, inBand := -1, middleGap*s.size, false
	for i := range s.glyphs {
		g := &s.glyphs[i]
		if g.r != ' ' && g.r != '\t' || g.x1 < from || g.x0 > to {
			continue
		}
		gap, band := g.x1-g.x0, g.x0 < b.x0 && g.x1 > a.x1
		switch {
		case g.r == '\t' && (g.x1 <= a.x1 || g.x0 >= b.x0):
			// Before or behind a cell that fills its column in part.
		case g.r == '\t':
			return -1
		case band && !inBand && gap > bandGap*s.size:
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
func spread(s *strip, columns []extent) (row []run, ok bool) {
	row = make([]run, len(columns))
	ok = true
	at := 0
	for i, e := range s.extents() {
		best, most := at, -1e9
		for k := at; k < len(columns); k++ {
			if o := min(e.x1, columns[k].x1) - max(e.x0, columns[k].x0); o > most {
				best, most = k, o
			}
		}
		if row[best].last > row[best].first {
			ok = false
			row[best].last = i + 1
			continue
		}
		row[best] = run{i, i + 1}
		at = best
	}
	return row, ok
}

// Heads of columns stand at most this many leadings above the first row, in at
// most this many blocks.
const (
	headReach  = 4.5
	headBlocks = 12
)

// takeHeads moves the column heads above a table into it: short blocks without
// a sentence's end, within the table's width. It returns the chunks without
// them.
func (p *sheet) takeHeads(out []*chunk, t *chunk) []*chunk {
	columns := t.table.columns
	x0, x1 := columns[0].x0-3*t.size(), columns[len(columns)-1].x1+3*t.size()
	var heads []*strip
	for n := 0; n < headBlocks && len(out) > 0; n++ {
		c := out[len(out)-1]
		text := c.text()
		if c.kind != Paragraph || len(c.strips) > 4 || len(text) > 160 || endsSentence(text) || isCaption(text, true) ||
			c.first().base < t.first().base-headReach*p.leading || c.last().base > t.first().base-0.4*t.size() {
			break
		}
		fits := true
		for _, s := range c.strips {
			fits = fits && s.x0 >= x0 && s.x1 <= x1
		}
		if !fits {
			break
		}
		heads = append(slices.Clone(c.strips), heads...)
		out = out[:len(out)-1]
	}
	if len(heads) == 0 {
		return out
	}
	rows := make([][]run, len(heads))
	for i, s := range heads {
		s.retab(columns, p.codes)
		rows[i], _ = spread(s, columns)
	}
	t.strips = append(heads, t.strips...)
	t.table.rows = append(rows, t.table.rows...)
	if !t.table.sure {
		t.table.heads = 0 // the first row was a guess
	}
	t.table.heads += len(heads)
	return out
}

// headRows counts the rows above the first that is mostly numbers. A table
// without numbers has one head, unless heads stand above it; sure is false.
func headRows(rows []*strip) (n int, sure bool) {
	for i, s := range rows {
		numbers := 0
		for _, c := range s.cells {
			if unicode.IsDigit(firstLetter(s.text[c.Start:c.End])) {
				numbers++
			}
		}
		if 2*numbers >= len(s.cells) {
			return min(i, 3), true
		}
	}
	return 1, false
}

package ingest

import "unicode"

// grid is a table: for each of its rows the cells of a strip by column.
type grid struct {
	columns int
	heads   int     // rows that are heads
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
	columns := columnsOf(rows)
	if len(columns) < 2 {
		return nil, 0
	}
	g := &grid{columns: len(columns)}
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
	g.heads = headRows(rows)
	return g, n
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
	var out []extent
	for _, s := range rows {
		if len(s.cells) != usual {
			continue
		}
		for _, e := range s.extents() {
			out = lay(out, e)
		}
	}
	if len(out) < usual {
		return nil
	}
	return out
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

// headRows counts the rows above the first that is mostly numbers; a table
// without numbers has one head.
func headRows(rows []*strip) int {
	for i, s := range rows {
		numbers := 0
		for _, c := range s.cells {
			if unicode.IsDigit(firstLetter(s.text[c.Start:c.End])) {
				numbers++
			}
		}
		if 2*numbers >= len(s.cells) {
			return min(i, 3)
		}
	}
	return 1
}

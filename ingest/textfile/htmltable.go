package textfile

import (
	"strconv"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// Bounds on tables that claim to be endless (HTML, 4.9.11, has 1,000 and 65,534).
const (
	maxSpan  = 1000
	maxCells = 200_000
)

// htmlCell is a cell at one place of a table's grid. A cell that spans several
// places stands at each.
type htmlCell struct {
	text string
	wide bool // it begins in a column to the left
	tall bool // it begins in a row above
}

// htmlTable is a table as its grid is formed (HTML, 4.9.12).
type htmlTable struct {
	caption string
	rows    [][]htmlCell
	heads   int
	below   map[int]span // cells that reach into rows to come, by column
	cells   int
}

// span is a cell that reaches down.
type span struct {
	cell htmlCell
	rows int // still to come
}

func readTable(n *html.Node) *htmlTable {
	t := &htmlTable{below: map[int]span{}}
	t.collect(n, false, 0)
	return t
}

func (t *htmlTable) collect(n *html.Node, inHead bool, depth int) {
	for c := n.FirstChild; c != nil && depth < maxDepth; c = c.NextSibling {
		switch {
		case unseen(c):
		case c.DataAtom == atom.Caption:
			t.caption = textOf(c)
		case c.DataAtom == atom.Tr:
			t.row(c, inHead)
		default:
			t.collect(c, inHead || c.DataAtom == atom.Thead, depth+1)
			if c.DataAtom == atom.Thead || c.DataAtom == atom.Tbody || c.DataAtom == atom.Tfoot {
				clear(t.below) // no cell reaches over its part of the table
			}
		}
	}
}

// row adds a row; it is one of heads where the table says so or every cell does.
func (t *htmlTable) row(n *html.Node, inHead bool) {
	if t.cells > maxCells {
		return
	}
	var row []htmlCell
	head, own := true, 0
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		if c.DataAtom != atom.Th && c.DataAtom != atom.Td || unseen(c) {
			continue
		}
		row = t.reached(row)
		head, own = head && (inHead || c.DataAtom == atom.Th), own+1
		cell := htmlCell{text: textOf(c)}
		down := spanOf(c, "rowspan") - 1
		for range spanOf(c, "colspan") {
			if down > 0 {
				t.below[len(row)] = span{htmlCell{text: cell.text, wide: cell.wide, tall: true}, down}
			}
			row = append(row, cell)
			cell.wide = true
		}
	}
	if own == 0 && len(t.below) == 0 {
		return
	}
	row = t.reached(row)
	if head && own > 0 && t.heads == len(t.rows) {
		t.heads++
	}
	t.cells += len(row)
	t.rows = append(t.rows, row)
}

// reached adds the cells that reach down from rows above to the row's end.
func (t *htmlTable) reached(row []htmlCell) []htmlCell {
	for {
		s, ok := t.below[len(row)]
		if !ok {
			return row
		}
		if s.rows--; s.rows == 0 {
			delete(t.below, len(row))
		} else {
			t.below[len(row)] = s
		}
		row = append(row, s.cell)
	}
}

func spanOf(n *html.Node, attribute string) int {
	v, err := strconv.Atoi(strings.TrimSpace(attr(n, attribute)))
	if err != nil || v < 1 {
		return 1
	}
	return min(v, maxSpan)
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// cellsOf returns a row as it is written. A cell that spans all columns stands in the
// first alone: it names the rows below. Of a head that reaches down, the words are
// not said twice; what stands beside several rows belongs to each.
func (t *htmlTable) cellsOf(row []htmlCell, head bool) []cell {
	out := make([]cell, len(row))
	whole := true
	for i, c := range row {
		whole = whole && (i == 0 || c.wide)
	}
	for i, c := range row {
		switch {
		case c.tall && head, whole && i > 0:
		case c.wide:
			out[i] = cell{beside: true}
		default:
			out[i] = cell{text: c.text}
		}
	}
	return out
}

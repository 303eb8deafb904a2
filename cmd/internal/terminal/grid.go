// Package terminal lays words out for a reader at a terminal or behind a pipe:
// columns that fold, paragraphs, emphasis.
//
// It refuses to pass on what could steer the terminal, and emphasises nothing
// where nobody sees it. What the words say is not its business.
package terminal

import (
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/mattn/go-runewidth"
	"golang.org/x/term"
)

const (
	pipeWidth = 110 // columns where there is no terminal to ask
	minWidth  = 60  // narrower than this, lines run on rather than fold to shreds
	maxWidth  = 500 // wider than this, nobody reads a line to its end
)

// Width returns how many columns w shows: a terminal's own width, else
// $COLUMNS, else pipeWidth.
func Width(w io.Writer) int {
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		if n, _, err := term.GetSize(int(f.Fd())); err == nil && n > 0 {
			return between(n)
		}
	}
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		return between(n)
	}
	return pipeWidth
}

func between(n int) int { return min(max(n, minWidth), maxWidth) }

// Grid lays rows out in columns, under heads where it has any. The last column
// takes what is left of the width; every cell folds inside its column rather
// than breaking the table.
type Grid struct {
	Heads []string
	rows  [][]string
	notes map[int][]string // by row: paragraphs that stand below it over all columns
}

// Add puts a row below the others.
func (g *Grid) Add(cells ...string) {
	row := make([]string, len(cells))
	for i, c := range cells {
		row[i] = Clean(c)
	}
	g.rows = append(g.rows, row)
}

// Empty reports whether the grid has no rows.
func (g *Grid) Empty() bool { return len(g.rows) == 0 }

// Under puts a paragraph below the row added last.
func (g *Grid) Under(note string) {
	if g.notes == nil {
		g.notes = map[int][]string{}
	}
	g.notes[len(g.rows)-1] = append(g.notes[len(g.rows)-1], Clean(note))
}

// Gap is how many blanks stand between columns.
const Gap = 2

const noteIndent = 4 // blanks before a paragraph below a row

// Print writes the grid, each line after indent blanks; nothing where it is empty.
func (g *Grid) Print(w io.Writer, indent, width int) error {
	if len(g.rows) == 0 {
		return nil
	}
	widths := g.widths(width - indent)
	var b strings.Builder
	if g.Heads != nil {
		writeRow(&b, g.Heads, widths, indent)
		rule := make([]string, len(widths))
		for i, n := range widths {
			rule[i] = strings.Repeat("─", min(n, runewidth.StringWidth(g.Heads[i])))
		}
		writeRow(&b, rule, widths, indent)
	}
	for i, row := range g.rows {
		writeRow(&b, row, widths, indent)
		for _, note := range g.notes[i] {
			for _, l := range Fold(note, width-indent-noteIndent) {
				b.WriteString(strings.Repeat(" ", indent+noteIndent) + l + "\n")
			}
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// widths gives each column the width of its widest cell and, where that is
// too much for the line, takes it from the widest columns first: from those
// that need not break a word for it as long as there are any.
func (g *Grid) widths(total int) []int {
	rows := append([][]string{g.Heads}, g.rows...)
	n := 0
	for _, row := range rows {
		n = max(n, len(row))
	}
	widths, words := make([]int, n), make([]int, n)
	for _, row := range rows {
		for i, c := range row {
			widths[i] = max(widths[i], runewidth.StringWidth(c))
			for w := range strings.FieldsSeq(c) {
				words[i] = max(words[i], runewidth.StringWidth(w))
			}
		}
	}
	least := slices.Repeat([]int{leastWidth}, n)
	for i, w := range words {
		words[i] = max(w, leastWidth)
	}
	room := total - Gap*(n-1)
	squeeze(widths, words, room)
	squeeze(widths, least, room)
	return widths
}

// leastWidth is the narrowest column.
const leastWidth = 8

// squeeze takes columns from the widest of those above their least width until
// they fit or none is left.
func squeeze(widths, least []int, room int) {
	for sum(widths) > room {
		widest := -1
		for i := range widths {
			if widths[i] > least[i] && (widest < 0 || widths[i] > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			return
		}
		widths[widest]--
	}
}

func sum(ns []int) (s int) {
	for _, n := range ns {
		s += n
	}
	return s
}

func writeRow(b *strings.Builder, cells []string, widths []int, indent int) {
	folded := make([][]string, len(widths))
	height := 1
	for i := range widths {
		if i < len(cells) {
			folded[i] = Fold(cells[i], widths[i])
		}
		height = max(height, len(folded[i]))
	}
	for l := range height {
		var line strings.Builder
		line.WriteString(strings.Repeat(" ", indent))
		for i, n := range widths {
			cell := ""
			if l < len(folded[i]) {
				cell = folded[i][l]
			}
			line.WriteString(cell)
			line.WriteString(strings.Repeat(" ", max(0, n-runewidth.StringWidth(cell))+Gap))
		}
		b.WriteString(strings.TrimRight(line.String(), " "))
		b.WriteByte('\n')
	}
}

package main

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
)

// widthOf returns how many columns w shows: a terminal's own width, else
// $COLUMNS, else pipeWidth.
func widthOf(w io.Writer) int {
	if f, ok := w.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		if n, _, err := term.GetSize(int(f.Fd())); err == nil && n > 0 {
			return max(n, minWidth)
		}
	}
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		return max(n, minWidth)
	}
	return pipeWidth
}

// grid lays rows out in columns. The last column takes what is left of the
// width; every cell folds inside its column rather than breaking the table.
type grid struct {
	heads []string
	rows  [][]string
	notes map[int][]string // by row: paragraphs that stand below it over all columns
	fixed map[int]bool     // columns that would say nothing when folded
}

func (g *grid) add(cells ...string) { g.rows = append(g.rows, cells) }

// under puts a paragraph below the row added last.
func (g *grid) under(note string) {
	if g.notes == nil {
		g.notes = map[int][]string{}
	}
	g.notes[len(g.rows)-1] = append(g.notes[len(g.rows)-1], note)
}

const (
	gap        = 2 // blanks between columns
	noteIndent = 4 // blanks before a paragraph below a row
)

// print writes the grid, each line after indent blanks.
func (g *grid) print(w io.Writer, indent, width int) error {
	if len(g.rows) == 0 {
		return nil
	}
	widths := g.widths(width - indent)
	var b strings.Builder
	if g.heads != nil {
		writeRow(&b, g.heads, widths, indent)
		rule := make([]string, len(widths))
		for i, n := range widths {
			rule[i] = strings.Repeat("─", min(n, runewidth.StringWidth(g.heads[i])))
		}
		writeRow(&b, rule, widths, indent)
	}
	for i, row := range g.rows {
		writeRow(&b, row, widths, indent)
		for _, note := range g.notes[i] {
			for _, l := range fold(note, width-indent-noteIndent) {
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
func (g *grid) widths(total int) []int {
	rows := append([][]string{g.heads}, g.rows...)
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
	room := total - gap*(n-1)
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
			folded[i] = fold(cells[i], widths[i])
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
			line.WriteString(strings.Repeat(" ", max(0, n-runewidth.StringWidth(cell))+gap))
		}
		b.WriteString(strings.TrimRight(line.String(), " "))
		b.WriteByte('\n')
	}
}

// fold breaks text into lines of at most width columns, between words where
// it can and inside a word where it must.
func fold(text string, width int) []string {
	var lines []string
	for _, part := range strings.Split(text, "\n") {
		lines = append(lines, foldLine(part, width)...)
	}
	return lines
}

func foldLine(text string, width int) []string {
	width = max(width, 1)
	var lines []string
	line := ""
	for _, word := range unbroken(strings.Fields(text), width) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if runewidth.StringWidth(joined) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for runewidth.StringWidth(word) > width {
			head := runewidth.Truncate(word, width, "")
			if head == "" {
				break // a single character wider than the column
			}
			lines = append(lines, head)
			word = word[len(head):]
		}
		line = word
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// unbroken joins a number and its unit, and "p." and its number, to one word where a
// line can hold it.
func unbroken(words []string, width int) []string {
	var out []string
	for _, w := range words {
		last := len(out) - 1
		if last >= 0 && (isUnit(w) && endsInDigit(out[last]) || out[last] == "p." && isDigit(w[0])) && runewidth.StringWidth(out[last]+" "+w) <= width {
			out[last] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// unitSigns are the units that stand behind a number in print.
var unitSigns = []string{"°C", "°F", "%", "d", "h", "min", "µS/cm", "mS/cm", "mg/L", "g/L", "mm", "µm"}

func isUnit(word string) bool {
	return slices.Contains(unitSigns, strings.TrimRight(word, ".,;:?)”’"))
}

func endsInDigit(word string) bool {
	return isDigit(word[len(word)-1])
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// clean keeps what a paper printed from steering the terminal: control
// characters become blanks.
func clean(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool {
		return r < ' ' || r == 0x7f || 0x80 <= r && r < 0xa0 || r == ' '
	}), " ")
}

// pad fills s with blanks to the given width.
func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-runewidth.StringWidth(s)))
}

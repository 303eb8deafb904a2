package table

import (
	"strings"

	"hatchlore/ingest"
)

// barredRun finds the longest run of lines that bars or tabs part into the same
// number of cells, a head and two rows at least; to is 0 where there is none.
func barredRun(text string, lines []span) (from, to int) {
	const least = 3
	for i := 0; i < len(lines); {
		n := len(barredCells(text, lines[i]))
		k := i + 1
		for n > 1 && k < len(lines) && (isRuled(text, lines[k]) || len(barredCells(text, lines[k])) == n) {
			k++
		}
		if n > 1 && k-i >= least && k-i > to-from {
			from, to = i, k
		}
		i = k
	}
	return from, to
}

// barredTable makes a table of the lines [from, to) of a block, the first of which
// holds the heads.
func barredTable(text string, b ingest.Block, lines []span, from, to int) []ingest.Block {
	table := ingest.Block{Kind: ingest.Table, Section: b.Section, Start: lines[from].start, End: lines[to-1].end}
	for i, l := range lines[from:to] {
		if !isRuled(text, l) {
			table.Rows = append(table.Rows, rowOf(barredCells(text, l), i == 0))
		}
	}
	return around(b, table, lines, from, to)
}

// barredCells returns what bars or tabs part in a line. Bars at its ends frame it.
func barredCells(text string, l span) (out []span) {
	start := l.start
	for i := l.start; i <= l.end; i++ {
		if i < l.end && text[i] != '|' && text[i] != '\t' {
			continue
		}
		cell := trim(text, start, i)
		if framed := cell.start >= cell.end && (start == l.start || i == l.end); !framed {
			out = append(out, cell)
		}
		start = i + 1
	}
	return out
}

// isRuled reports whether a line is the rule below heads: bars, dashes and colons.
func isRuled(text string, l span) bool {
	s := text[l.start:l.end]
	return strings.Contains(s, "-") && strings.Trim(s, "|-:+= \t") == ""
}

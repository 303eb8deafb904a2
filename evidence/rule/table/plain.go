package table

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
)

// LaidOut returns the blocks of the page with tables that a plain text prints
// as lines ("10 0 0") made into blocks of their own. Pages of PDFs come with
// their tables found.
func (r *Reader) LaidOut(page *ingest.Page, format, lang string) []ingest.Block {
	blocks := blocksOf(page)
	if format == "pdf" || page.How == ingest.ByOCR {
		return blocks
	}
	small := r.smallWords(lang)
	var out []ingest.Block
	for _, b := range blocks {
		if b.Kind != ingest.Paragraph && b.Kind != ingest.Caption {
			out = append(out, b)
			continue
		}
		out = append(out, splitPlain(page, b, small)...)
	}
	return out
}

// Least rows of a plain table: with a caption's label above it, and without.
const (
	plainRows      = 2
	plainUnlabeled = 3
)

// splitPlain cuts a block at the table that it holds: what stands before the
// heads is the caption. A block without one comes back as it is.
func splitPlain(page *ingest.Page, b ingest.Block, small map[string]bool) []ingest.Block {
	lines := linesIn(page, b)
	if from, to := barredRun(page.Text, lines); to > 0 {
		return barredTable(page.Text, b, lines, from, to)
	}
	shape := valuesLast
	from, to := plainRun(page.Text, lines, shape)
	if to == 0 {
		shape = wordLast
		from, to = plainRun(page.Text, lines, shape)
	}
	if to == 0 {
		return []ingest.Block{b}
	}
	table := ingest.Block{Kind: ingest.Table, Section: b.Section, Start: lines[from-1].start, End: lines[to-1].end}
	label := IsCaption(b, lexicon.Words(page.Text, b.Start, min(b.End, b.Start+80)))
	if to-from < plainUnlabeled && (!label || shape == wordLast) || shape == wordLast && !label {
		return []ingest.Block{b}
	}
	columns := 0
	for _, l := range lines[from:to] {
		columns = max(columns, len(cellsOf(page.Text, l, shape)))
	}
	heads := splitHeads(page.Text, lines[from-1], columns, small)
	if heads == nil {
		return []ingest.Block{b}
	}
	table.Rows = append(table.Rows, rowOf(heads, true))
	for _, l := range lines[from:to] {
		cells := cellsOf(page.Text, l, shape)
		for len(cells) < columns {
			cells = append([]span{{l.start, l.start}}, cells...)
		}
		table.Rows = append(table.Rows, rowOf(cells, false))
	}
	return around(b, table, lines, from-1, to)
}

// around returns the table of lines [from, to) with what stands before and behind
// it in its block.
func around(b, table ingest.Block, lines []span, from, to int) (out []ingest.Block) {
	if from > 0 {
		before := b
		before.End = lines[from-1].end
		out = append(out, before)
	}
	out = append(out, table)
	if to < len(lines) {
		rest := b
		rest.Kind, rest.Start = ingest.Paragraph, lines[to].start
		out = append(out, rest)
	}
	return out
}

func rowOf(cells []span, head bool) ingest.Row {
	row := ingest.Row{Head: head}
	for _, c := range cells {
		row.Cells = append(row.Cells, ingest.Cell{Start: c.start, End: c.end})
	}
	return row
}

// LinesIn returns the lines of a block, as the page has them or by the line
// ends in its text, as cells.
func LinesIn(page *ingest.Page, b ingest.Block) (out []ingest.Cell) {
	for _, l := range linesIn(page, b) {
		out = append(out, ingest.Cell{Start: l.start, End: l.end})
	}
	return out
}

func linesIn(page *ingest.Page, b ingest.Block) (out []span) {
	for _, l := range page.Lines {
		if l.Start >= b.Start && l.End <= b.End && l.Start < l.End {
			out = append(out, span{l.Start, l.End})
		}
	}
	if len(out) > 0 {
		return out
	}
	at := b.Start
	for _, l := range strings.SplitAfter(page.Text[b.Start:b.End], "\n") {
		if s := trim(page.Text, at, at+len(l)); s.start < s.end {
			out = append(out, s)
		}
		at += len(l)
	}
	return out
}

// rowShape is how the rows of a plain table end.
type rowShape int

const (
	valuesLast rowShape = iota // "10 0 0", at least two values
	wordLast                   // "30 hatching", values and one word
)

// least is how few values a row may have.
func (s rowShape) least() int {
	if s == wordLast {
		return 1
	}
	return 2
}

// plainRun finds the longest run of lines of the shape with the same number n
// of values; the line before them holds the heads.
func plainRun(text string, lines []span, shape rowShape) (from, to int) {
	for i := 1; i < len(lines); i++ {
		k := len(valuesAt(text, lines[i], shape))
		if k < shape.least() || len(valuesAt(text, lines[i-1], shape)) >= k && i == 1 {
			continue
		}
		j := i
		for j < len(lines) && len(valuesAt(text, lines[j], shape)) == k && len(text[lines[j].start:lines[j].end]) < 120 {
			j++
		}
		if j-i >= plainRows && j-i > to-from {
			from, to = i, j
		}
		i = max(i, j-1)
	}
	return from, to
}

// cellValueForm is a token that can be the whole of a cell.
var cellValueForm = regexp.MustCompile(`^(?:[<>≤≥~]?[−–-]?\d+(?:[.,·]\d+)*(?:[–-]\d+(?:[.,·]\d+)*)?[%*]?|[–—-])$`)

// cellWordForm is a word that can be the whole of a cell.
var cellWordForm = regexp.MustCompile(`^\p{L}+$`)

// valuesAt returns the values at the end of a line, or before its last word.
func valuesAt(text string, l span, shape rowShape) (out []span) {
	fields := fieldsOf(text, l)
	if shape == wordLast {
		last := len(fields) - 1
		if last < 0 || !cellWordForm.MatchString(text[fields[last].start:fields[last].end]) {
			return nil
		}
		fields = fields[:last]
	}
	for i := len(fields) - 1; i >= 0 && cellValueForm.MatchString(text[fields[i].start:fields[i].end]); i-- {
		out = append([]span{fields[i]}, out...)
	}
	return out
}

// sourceForm is a label that begins with a source, as in tables of what others found.
var sourceForm = regexp.MustCompile(`^\p{Lu}.{0,60}? (?:1[6-9]|20)\d\d `)

// cellsOf returns the cells of a line: the words before its values, where there
// are any, are one cell, or two where they begin with a source.
func cellsOf(text string, l span, shape rowShape) (out []span) {
	cells := valuesAt(text, l, shape)
	label := trim(text, l.start, cells[0].start)
	if end := cells[len(cells)-1].end; shape == wordLast {
		cells = append(cells, trim(text, end, l.end))
		if source := sourceForm.FindString(text[label.start:label.end]); source != "" {
			out = append(out, trim(text, label.start, label.start+len(source)))
			label.start += len(source)
		}
	}
	if label.start < label.end {
		out = append(out, label)
	}
	return append(out, cells...)
}

// fieldsOf returns what blanks part in a line.
func fieldsOf(text string, l span) (out []span) {
	start := -1
	for i := l.start; i < l.end; {
		r, n := utf8.DecodeRuneInString(text[i:l.end])
		if unicode.IsSpace(r) {
			if start >= 0 {
				out = append(out, span{start, i})
			}
			start = -1
		} else if start < 0 {
			start = i
		}
		i += n
	}
	if start >= 0 {
		out = append(out, span{start, l.end})
	}
	return out
}

// splitHeads parts a line of heads into n, at the places that look most like
// the beginning of a head and give heads of similar lengths; nil when the line
// has fewer words. The small words of the language begin and end no head.
func splitHeads(text string, l span, n int, small map[string]bool) []span {
	const most = 40 // words of a line of heads
	fields := fieldsOf(text, l)
	if len(fields) < n || n < 1 || len(fields) > most {
		return nil
	}
	gain := startGains(text, l, fields, small)
	mean := float64(len(fields)) / float64(n)
	uneven := func(words int) float64 { d := float64(words) - mean; return 0.3 * d * d }
	// best[k][i]: the best value of the first i words as k heads
	best, from := make([][]float64, n+1), make([][]int, n+1)
	for k := range best {
		best[k], from[k] = make([]float64, len(fields)+1), make([]int, len(fields)+1)
		for i := range best[k] {
			best[k][i] = -1e9
		}
	}
	best[0][0] = 0
	for k := 1; k <= n; k++ {
		for i := k; i <= len(fields); i++ {
			for j := k - 1; j < i; j++ {
				v := best[k-1][j] - uneven(i-j)
				if j > 0 {
					v += gain[j]
				} else {
					v -= 0.1 * float64(i)
				}
				if v > best[k][i] {
					best[k][i], from[k][i] = v, j
				}
			}
		}
	}
	out := make([]span, n)
	end := len(fields)
	for k := n; k > 0; k-- {
		start := from[k][end]
		out[k-1] = span{fields[start].start, fields[end-1].end}
		end = start
	}
	return out
}

// startGains says how much each word looks like the beginning of a head.
func startGains(text string, l span, fields []span, small map[string]bool) []float64 {
	qs := quantity.Find(text[l.start:l.end])
	word := func(i int) string { return text[fields[i].start:fields[i].end] }
	capital := func(i int) bool { return unicode.IsUpper([]rune(word(i))[0]) }
	linked := func(i int) bool { return small[lexicon.Fold(strings.Trim(word(i), "(),."))] }
	out := make([]float64, len(fields))
	for i := 1; i < len(fields); i++ {
		v := -1.0
		switch {
		case capital(i) && capital(i-1):
			v = 1
		case capital(i):
			v = 3
		}
		for _, q := range qs {
			start, end := q.Start+l.start, q.End+l.start
			switch at := fields[i].start; {
			case start < at && at < end:
				v -= 10
			case at == start, fields[i-1].end == end:
				v += 2
			}
		}
		if strings.HasSuffix(word(i-1), ")") {
			v += 2
		}
		if strings.ContainsAny(word(i)[:1], "([%)") {
			v -= 10
		}
		if linked(i - 1) {
			v -= 6
		}
		if linked(i) {
			v -= 4
		}
		out[i] = v
	}
	return out
}

// blocksOf returns the page's blocks; a page without any is one paragraph.
func blocksOf(p *ingest.Page) []ingest.Block {
	if len(p.Blocks) > 0 || strings.TrimSpace(p.Text) == "" {
		return p.Blocks
	}
	return []ingest.Block{{Kind: ingest.Paragraph, End: len(p.Text)}}
}

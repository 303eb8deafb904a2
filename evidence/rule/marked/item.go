package marked

import (
	"regexp"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence/rule/table"
	"hatchlore/ingest"
)

// entryForm is a line of a list without bullets: a label and what it says of it
// ("25 °C: 22 h", "Triops longicaudatus – 22 to 25 °C").
var entryForm = regexp.MustCompile(`^[\p{Lu}\d][^.;!?]{1,60}?(?::| [–—=-]) *\S.{0,60}$`)

// stretches parts a block at the lines at which an item of a list begins, and
// behind the last of them, where a new sentence begins there.
func stretches(page *ingest.Page, b ingest.Block) []Span {
	const long = 120 // bytes; lines of lists are short
	text := page.Text[:b.End]
	lines := table.LinesIn(page, b)
	entry := func(i int) bool {
		return i >= 0 && i < len(lines) && lines[i].End-lines[i].Start <= long && entryForm.MatchString(text[lines[i].Start:lines[i].End])
	}
	start := b.Start
	var out []Span
	for i := 1; i < len(lines); i++ {
		at := lines[i].Start
		first, _ := utf8.DecodeRuneInString(text[at:])
		listed := entry(i) && (entry(i-1) || entry(i+1))
		behind := entry(i-1) && entry(i-2) && unicode.IsUpper(first)
		if listed || behind || startsItem(text, at, b.End) {
			out = append(out, Span{start, at})
			start = at
		}
	}
	return append(out, Span{start, b.End})
}

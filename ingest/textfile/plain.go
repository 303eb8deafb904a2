package textfile

import (
	"strings"
	"unicode"

	"hatchlore/ingest"
	"hatchlore/ingest/prose"
)

// readPlain reads plain text: the first line is the title, empty lines part
// paragraphs, form feeds pages.
func readPlain(d *ingest.Document, text string) {
	w := newDraft(d)
	titled := false
	for _, page := range strings.Split(text, "\f") {
		var lines []string
		flush := func() {
			w.block(ingest.Paragraph, dehyphenate(lines)...)
			lines = nil
		}
		for _, l := range strings.Split(page, "\n") {
			blank := strings.TrimSpace(l) == ""
			switch {
			case !titled && !blank:
				w.block(ingest.Title, l)
				titled = true
			case blank:
				flush()
			default:
				lines = append(lines, l)
			}
		}
		flush()
		w.endPage()
	}
}

// dehyphenate moves the head of a word broken at a line's end to the next line.
// Only letters are joined, and a word that goes on with a capital keeps its
// hyphen.
func dehyphenate(lines []string) []string {
	out := make([]string, 0, len(lines))
	carry := ""
	for _, l := range lines {
		l = carry + strings.TrimSpace(l)
		carry = ""
		if stem, ok := strings.CutSuffix(l, "-"); ok && unicode.IsLetter(prose.Last(stem)) {
			word := prose.LastWord(stem)
			out, carry = append(out, stem[:len(stem)-len(word)]), word+"\x00"
			continue
		}
		out = append(out, l)
	}
	if carry != "" {
		out = append(out, carry)
	}
	for i, l := range out {
		head, tail, ok := strings.Cut(l, "\x00")
		if !ok {
			continue
		}
		if unicode.IsLower(prose.First(tail)) && !prose.Suspended(tail) {
			out[i] = head + tail
		} else if prose.Suspended(tail) {
			out[i] = head + "- " + tail
		} else {
			out[i] = head + "-" + tail
		}
	}
	return out
}

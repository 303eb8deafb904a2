package textfile

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/ingest"
	"hatchlore/ingest/heading"
	"hatchlore/ingest/prose"
)

// readPlain reads plain text: the first line is the title where it can be one,
// empty lines part paragraphs, form feeds pages.
func readPlain(d *ingest.Document, text string) {
	w := newDraft(d)
	titled := !opensWithTitle(text)
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

// longestTitle is how many characters a title has at most (common practice, no
// source: titles of papers seldom have more than 200).
const longestTitle = 250

// opensWithTitle reports whether the first line of a text is its title: no
// longer than one, and followed by other text. The only paragraph of a text is
// what it has to say, however many lines it takes; a title without an empty line
// below it shows by the section or the new sentence that begins there.
func opensWithTitle(text string) bool {
	text = strings.TrimSpace(text)
	first, rest, _ := strings.Cut(text, "\n")
	first, _, _ = strings.Cut(first, "\f")
	first = strings.TrimSpace(first)
	if utf8.RuneCountInString(first) > longestTitle {
		return false
	}
	if parted.MatchString(text) {
		return true
	}
	next, _, _ := strings.Cut(rest, "\n")
	if _, ok := heading.Section(next); ok {
		return true
	}
	if _, _, ok := heading.RunIn(next); ok {
		return true
	}
	return unicode.IsUpper(prose.First(next)) && !prose.EndsSentence(first)
}

// parted finds where a paragraph ends and another begins: an empty line, or the
// end of a page.
var parted = regexp.MustCompile(`\n[^\S\n]*\n|\f`)

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

package reference

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// split returns the spans of entries.
func split(text string) [][2]int {
	lines := strings.Split(text, "\n")
	opens := Openings(lines)
	var spans [][2]int
	start := 0
	for i, l := range lines {
		line := strings.TrimSpace(l)
		at := start + strings.Index(l, line)
		if opens[i] {
			spans = append(spans, [2]int{at, at})
		}
		if line != "" && len(spans) > 0 {
			spans[len(spans)-1][1] = at + len(line)
		}
		start += len(l) + 1
	}
	return spans
}

// Openings reports which lines of a list of references open an entry: those that
// look like it, below a line that may end one. Where most of them begin with a
// number, nothing else opens one.
func Openings(lines []string) []bool {
	opens, numbers := make([]bool, len(lines)), make([]bool, len(lines))
	all, byNumber := 0, 0
	ended := true // before the first entry stand headings
	for i, line := range lines {
		line = strings.TrimSpace(line)
		if ended && line != "" {
			numbers[i] = numbered.MatchString(line)
			opens[i] = numbers[i] || OpensWithNames(line)
		}
		if opens[i] {
			all++
		}
		if numbers[i] {
			byNumber++
		}
		ended = all == 0 || endsEntry(line)
	}
	if 2*byNumber > all {
		return numbers
	}
	return opens
}

// endsEntry reports whether an entry may end with this line.
func endsEntry(line string) bool {
	if line == "" {
		return true
	}
	last, _ := utf8.DecodeLastRuneInString(line)
	word := line[strings.LastIndexByte(line, ' ')+1:]
	switch {
	case lastInitial.MatchString(word), unicode.Is(unicode.Pd, last): // a list of names, or a range, that goes on
		return false
	case last == '.' || last == ']' || last == ')' || unicode.IsDigit(last):
		return true
	}
	return strings.Contains(word, "/") || codeLike(word)
}

// codeLike reports whether a word is the end of a DOI that the line broke:
// "00942.x", "3.0.CO;2-B".
func codeLike(word string) bool {
	digits := 0
	for _, r := range word {
		if unicode.IsDigit(r) {
			digits++
		}
	}
	return digits >= 3
}

// OpensWithNames reports whether a line begins with the authors of an entry, or with
// an institution and a year.
func OpensWithNames(line string) bool {
	line = givenAside.ReplaceAllString(line, "$1, $2")
	return invertedAt.MatchString(line) || directAt.MatchString(line) || corporate.MatchString(line)
}

// joinLines makes one line of several, and one word of those that a hyphen
// breaks between small letters.
func joinLines(s string) string {
	lines := strings.Split(s, "\n")
	out := strings.TrimSpace(lines[0])
	for _, l := range lines[1:] {
		l = strings.TrimSpace(l)
		next, _ := utf8.DecodeRuneInString(l)
		if strings.HasSuffix(out, "-") && unicode.IsLower(next) {
			out = out[:len(out)-1] + l
		} else {
			out += " " + l
		}
	}
	return strings.Join(strings.Fields(out), " ")
}

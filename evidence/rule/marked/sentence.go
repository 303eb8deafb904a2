package marked

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence/rule/lexicon"
)

func isSpace(b byte) bool { return b == ' ' || b == '\n' || b == '\t' || b == '\r' }

// sentences cuts text[from:to] at full stops, question and exclamation marks,
// at empty lines and before list items. A full stop ends a sentence only when
// what follows can begin one and what precedes is neither an abbreviation of
// the language nor an initial ("Fig. 3", "et al. 1999", "A. salina"); after a
// unit ("4 °C. The") it does.
func sentences(text string, from, to int, lex *lexicon.Lexicon) []Span {
	var out []Span
	start := from
	if end := runIn(text, from, to); end > 0 {
		out, start = append(out, Trim(text, from, end)), end
	}
	emit := func(end int) {
		s := Trim(text, start, end)
		if s.Start < s.End {
			out = append(out, s)
		}
		start = end
		if end := runIn(text, start, to); end > 0 {
			out, start = append(out, Trim(text, start, end)), end
		}
	}
	for i := from; i < to; {
		r, n := utf8.DecodeRuneInString(text[i:to])
		if overlong(r, i-start) {
			emit(i)
		}
		switch r {
		case '\n':
			if startsItem(text, i+1, to) {
				emit(i)
			}
		case '.', '!', '?', '…':
			if end, ok := stopAt(text, from, i+n, to, r, lex); ok {
				emit(end)
				i = end
				continue
			}
		}
		i += n
	}
	emit(to)
	return out
}

// sectionLabel is the number of a subsection, with the first letter of its
// heading.
var sectionLabel = regexp.MustCompile(`^\s*\d{1,2}(?:\.\d{1,2}){1,3}\.? \p{Lu}`)

// runIn returns the end of a numbered heading that the text of its section
// follows on the same line, without a stop between: "3.3.4 Salt In both
// populations ...". It ends before the next word in capitals; 0 when there is none
// soon.
func runIn(text string, from, to int) int {
	const longest = 90 // bytes
	label := sectionLabel.FindStringIndex(text[from:min(to, from+24)])
	if label == nil {
		return 0
	}
	for i := from + label[1]; i < min(to, from+longest); i++ {
		switch c := text[i]; {
		case c == '.' || c == '?' || c == '!' || c == '\n' && i+1 < to && text[i+1] == '\n':
			return 0 // a heading with a stop of its own, or a sentence
		case isSpace(c) && i+2 < to && 'A' <= text[i+1] && text[i+1] <= 'Z' && ('a' <= text[i+2] && text[i+2] <= 'z' || isSpace(text[i+2])):
			return i
		}
	}
	return 0
}

// overlong reports whether a stretch of n bytes is no sentence any more and
// may end at r. The limits keep the time for a text without full stops linear.
func overlong(r rune, n int) bool {
	switch {
	case n < 1200:
		return false
	case n < 1600:
		return r == ',' || r == ';'
	case n < 2400:
		return r == ' ' || r == '\n'
	}
	return true
}

// startsItem reports whether a new statement begins on the line at i: an
// empty line, a bullet or an item number.
func startsItem(text string, i, to int) bool {
	for i < to && (text[i] == ' ' || text[i] == '\t') {
		i++
	}
	if i >= to || text[i] == '\n' {
		return true
	}
	for _, bullet := range []string{"- ", "• ", "* ", "– ", "· ", "> "} {
		if strings.HasPrefix(text[i:to], bullet) {
			return true
		}
	}
	j := i
	for j < to && j < i+2 && text[j] >= '0' && text[j] <= '9' {
		j++
	}
	if j == i || j >= to {
		return false
	}
	mark := strings.HasPrefix(text[j:to], ". ") || strings.HasPrefix(text[j:to], ") ") || strings.HasPrefix(text[j:to], " – ")
	return mark
}

// stopAt decides whether the stop that ends at i closes a sentence, and where:
// behind closing quotes and brackets.
func stopAt(text string, from, i, to int, stop rune, lex *lexicon.Lexicon) (end int, ok bool) {
	end = i
	for end < to {
		r, n := utf8.DecodeRuneInString(text[end:to])
		if !strings.ContainsRune(`"'”’»)]`, r) {
			break
		}
		end += n
	}
	if end >= to {
		return end, true
	}
	if !isSpace(text[end]) {
		return 0, false
	}
	k := end
	for k < to && isSpace(text[k]) {
		k++
	}
	if k >= to {
		return end, true
	}
	next, _ := utf8.DecodeRuneInString(text[k:to])
	if !canBegin(next) && !strings.HasPrefix(text[k:to], "pH ") {
		return 0, false
	}
	if stop != '.' || end > i {
		return end, true
	}
	return end, !abbreviated(text, from, i-1, k, to, lex)
}

func canBegin(r rune) bool {
	return unicode.IsUpper(r) || unicode.IsDigit(r) || strings.ContainsRune(`"'“‘«„([•-–>¿¡`, r)
}

// abbreviated reports whether the full stop at i ends an abbreviation or an
// initial rather than a sentence; k is where the next word begins.
func abbreviated(text string, from, i, k, to int, lex *lexicon.Lexicon) bool {
	j := i
	for j > from {
		r, n := utf8.DecodeLastRuneInString(text[from:j])
		if !lexicon.IsLetter(r) {
			break
		}
		j -= n
	}
	last := text[j:i]
	if last == "" {
		return false
	}
	next := nextWord(text, k, to)
	if len(last) <= 2 && last[0] >= '0' && last[0] <= '9' { // "am 3. Tag", "12. Mai"
		return lex.IsCounted(next)
	}
	if first, n := utf8.DecodeRuneInString(last); n == len(last) && unicode.IsLetter(first) {
		if afterUnitMark(text, from, j) {
			return false
		}
		return !lex.IsCommon(next)
	}
	return lex.IsAbbreviation(last) && !lex.IsCommon(next)
}

// afterUnitMark reports whether the single letter at j ends a unit, as the C
// of "4 °C" or of "20 C" does.
func afterUnitMark(text string, from, j int) bool {
	for j > from {
		r, n := utf8.DecodeLastRuneInString(text[from:j])
		if strings.ContainsRune("°º˚℃℉/·-−", r) || unicode.IsDigit(r) {
			return true
		}
		if r != ' ' && r != '\u00a0' {
			return false
		}
		j -= n
	}
	return false
}

func nextWord(text string, k, to int) string {
	for k < to {
		r, n := utf8.DecodeRuneInString(text[k:to])
		if lexicon.IsLetter(r) {
			break
		}
		k += n
	}
	e := k
	for e < to {
		r, n := utf8.DecodeRuneInString(text[e:to])
		if !lexicon.IsLetter(r) {
			break
		}
		e += n
	}
	return text[k:e]
}

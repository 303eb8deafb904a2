// Package prose says what the words of printed lines tell of how the lines go
// together: whether a hyphen at a line's end belongs to the word, and whether a
// sentence ends.
//
// It joins letters only, and refuses to guess at numbers: what stands at the end
// of a line and at the beginning of the next is never made into one number.
package prose

import (
	"strings"
	"unicode"
)

// Vocabulary counts the words that a paper prints whole, in lower case;
// hyphenated words count as one.
type Vocabulary map[string]int

// Learn adds the words of a line; its last word is left out when the line ends
// with a hyphen, and its first when the line before did.
func (v Vocabulary) Learn(line string, after, before bool) {
	for start, end := nextWord(line, 0); start < end; start, end = nextWord(line, end) {
		if start == 0 && after || end >= len(line)-1 && before {
			continue
		}
		v[strings.ToLower(line[start:end])]++
	}
}

// nextWord finds the first word from a place on: letters, with single hyphens
// between them. start equals end where there is none.
func nextWord(line string, from int) (start, end int) {
	start, end = -1, len(line)
	for i, r := range line[from:] {
		i += from
		switch {
		case unicode.IsLetter(r):
			if start < 0 {
				start = i
			}
		case start < 0:
		case r == '-' && line[i-1] != '-' && unicode.IsLetter(First(line[i+1:])):
		default:
			return start, i
		}
	}
	if start < 0 {
		return end, end
	}
	return start, end
}

// Bond says how two lines are put together.
type Bond int

const (
	BySpace  Bond = iota // two words
	BySticky             // no space: a hyphen or dash that belongs there
	ByMerger             // one word: the hyphen goes
)

// BondOf decides how line and next go together. A hyphen is dropped only
// between letters, and not where the paper itself writes the word with it.
func (v Vocabulary) BondOf(line, next string) Bond {
	last := Last(line)
	if isDigit(First(next)) && last == '−' || isDigit(last) && First(next) == '–' && isDigit(First(next[len("–"):])) {
		return BySticky // a sign and its number, a range
	}
	if last != '-' && last != '–' && last != '/' {
		return BySpace
	}
	stem := line[:len(line)-len(string(last))]
	if stem == "" || unicode.IsSpace(Last(stem)) || next == "" {
		return BySpace
	}
	if last != '-' {
		return BySticky
	}
	if !unicode.IsLetter(Last(stem)) || !unicode.IsLetter(First(next)) {
		return BySticky
	}
	if Suspended(next) {
		return BySpace
	}
	head, tail := LastWord(stem), leadingWord(next)
	if unicode.IsUpper(First(tail)) {
		return BySticky
	}
	head, tail = strings.ToLower(head), strings.ToLower(tail)
	joined, hyphened := v[head+tail], v[head+"-"+tail]
	switch {
	case joined > 0 && joined >= hyphened:
		return ByMerger
	case hyphened > 0:
		return BySticky
	case strings.Contains(head, "-") && v[head[strings.LastIndexByte(head, '-')+1:]+tail] == 0:
		return BySticky // a compound, whose parts are no word together
	}
	return ByMerger
}

// Suspended reports whether a line goes on after a hanging hyphen, as in
// "pre- and post-treatment", in the languages of the trade's literature.
func Suspended(next string) bool {
	switch strings.ToLower(leadingWord(next)) {
	case "and", "or", "to", "und", "oder", "bis", "et", "ou", "y", "o", "e", "en", "of", "och":
		return true
	}
	return false
}

func LastWord(s string) string {
	i := len(s)
	for i > 0 {
		r := Last(s[:i])
		if !unicode.IsLetter(r) && r != '-' {
			break
		}
		i -= len(string(r))
	}
	return s[i:]
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

func leadingWord(s string) string {
	for i, r := range s {
		if !unicode.IsLetter(r) {
			return s[:i]
		}
	}
	return s
}

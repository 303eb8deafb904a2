package ingest

import (
	"strings"
	"unicode"
)

// vocabulary counts the words that a paper prints whole, in lower case;
// hyphenated words count as one.
type vocabulary map[string]int

// learn adds the words of a line; its last word is left out when the line ends
// with a hyphen, and its first when the line before did.
func (v vocabulary) learn(line string, after, before bool) {
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
		case r == '-' && line[i-1] != '-' && unicode.IsLetter(firstRune(line[i+1:])):
		default:
			return start, i
		}
	}
	if start < 0 {
		return end, end
	}
	return start, end
}

// bond says how two lines are put together.
type bond int

const (
	bySpace  bond = iota // two words
	bySticky             // no space: a hyphen or dash that belongs there
	byMerger             // one word: the hyphen goes
)

// bondOf decides how line and next go together. A hyphen is dropped only
// between letters, and not where the paper itself writes the word with it.
func (v vocabulary) bondOf(line, next string) bond {
	last := lastRune(line)
	if last != '-' && last != '–' && last != '/' {
		return bySpace
	}
	stem := line[:len(line)-len(string(last))]
	if stem == "" || unicode.IsSpace(lastRune(stem)) || next == "" {
		return bySpace
	}
	if last != '-' {
		return bySticky
	}
	if !unicode.IsLetter(lastRune(stem)) || !unicode.IsLetter(firstRune(next)) {
		return bySticky
	}
	if suspended(next) {
		return bySpace
	}
	head, tail := lastWord(stem), leadingWord(next)
	if unicode.IsUpper(firstRune(tail)) {
		return bySticky
	}
	head, tail = strings.ToLower(head), strings.ToLower(tail)
	joined, hyphened := v[head+tail], v[head+"-"+tail]
	switch {
	case joined > 0 && joined >= hyphened:
		return byMerger
	case hyphened > 0:
		return bySticky
	case strings.Contains(head, "-"):
		return bySticky
	}
	return byMerger
}

// suspended reports whether a line goes on after a hanging hyphen, as in
// "pre- and post-treatment", in the languages of the trade's literature.
func suspended(next string) bool {
	switch strings.ToLower(leadingWord(next)) {
	case "and", "or", "to", "und", "oder", "bis", "et", "ou", "y", "o", "e", "en", "of", "och":
		return true
	}
	return false
}

func lastWord(s string) string {
	i := len(s)
	for i > 0 {
		r := lastRune(s[:i])
		if !unicode.IsLetter(r) && r != '-' {
			break
		}
		i -= len(string(r))
	}
	return s[i:]
}

func leadingWord(s string) string {
	for i, r := range s {
		if !unicode.IsLetter(r) {
			return s[:i]
		}
	}
	return s
}

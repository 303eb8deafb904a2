package fulltext

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// sentences yields the stretches between full stops that end a sentence, and
// between paragraphs.
func sentences(text string) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		start := 0
		for i := 0; i < len(text); i++ {
			if text[i] == '.' && endsSentence(text, i) || text[i] == '\n' && i+1 < len(text) && text[i+1] == '\n' {
				if !yield(text[start : i+1]) {
					return
				}
				start = i + 1
			}
		}
		yield(text[start:])
	}
}

// shortened are words that end in a full stop within a sentence.
var shortened = map[string]bool{"al": true, "Mr": true, "Mrs": true, "Ms": true, "Dr": true, "St": true, "ca": true, "cf": true, "approx": true, "resp": true,
	"Fig": true, "Tab": true, "No": true, "Nr": true, "bzw": true, "vgl": true, "env": true, "aprox": true}

// endsSentence reports whether the full stop at i ends a sentence: not that of an
// initial, of a shortened word, of a day ("12. Dezember"), nor one before small
// letters, a bracket or a number.
func endsSentence(text string, i int) bool {
	if i+1 >= len(text) || text[i+1] != ' ' && text[i+1] != '\n' {
		return false
	}
	word := text[strings.LastIndexAny(text[:i], " \n(")+1 : i]
	day := len(word) <= 2 && strings.Trim(word, "0123456789") == ""
	if utf8.RuneCountInString(word) < 2 || day || shortened[word] {
		return false
	}
	next, _ := utf8.DecodeRuneInString(strings.TrimLeft(text[i+1:], " \n"))
	return !unicode.IsLower(next) && !unicode.IsDigit(next) && next != '('
}

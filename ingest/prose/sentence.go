package prose

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// EndsSentence reports whether a sentence ends with the text, marks of notes and
// closing brackets set aside.
func EndsSentence(text string) bool {
	t := strings.TrimRight(text, " )]”’\"'»⁰¹²³⁴⁵⁶⁷⁸⁹")
	return strings.HasSuffix(t, ".") || strings.HasSuffix(t, "?") || strings.HasSuffix(t, "!") || strings.HasSuffix(t, ":")
}

// FirstLetter returns the first letter or digit of a text, 0 for none.
func FirstLetter(text string) rune {
	for _, r := range text {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
	}
	return 0
}

// Letters counts the letters of a text.
func Letters(text string) int {
	n := 0
	for _, r := range text {
		if unicode.IsLetter(r) {
			n++
		}
	}
	return n
}

// HasLetters reports whether there is a letter in a text.
func HasLetters(text string) bool { return strings.IndexFunc(text, unicode.IsLetter) >= 0 }

// Last returns the last rune of s, 0 for an empty string.
func Last(s string) rune {
	if s == "" {
		return 0
	}
	r, _ := utf8.DecodeLastRuneInString(s)
	return r
}

// First returns the first rune of s, 0 for an empty string.
func First(s string) rune {
	if s == "" {
		return 0
	}
	r, _ := utf8.DecodeRuneInString(s)
	return r
}

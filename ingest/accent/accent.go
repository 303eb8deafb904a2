// Package accent puts a letter and its accent together and takes them apart, by
// the tables of Unicode.
//
// It refuses to invent letters: an accent with which Unicode has no such letter
// stays a character of its own.
package accent

import (
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Compose returns the letter with the accent, a combining character, as one
// character; 0 where there is none. A letter whose dot the typesetter took off to
// make room for the accent counts as the letter.
func Compose(letter, accent rune) rune {
	switch letter {
	case 'ı':
		letter = 'i'
	case 'ȷ':
		letter = 'j'
	}
	whole := norm.NFC.String(string([]rune{letter, accent}))
	if r, n := utf8.DecodeRuneInString(whole); n == len(whole) {
		return r
	}
	return 0
}

// Bare returns a letter without its accents, and a ligature as its letters. What
// has neither stays as it is.
func Bare(letter rune) string {
	var out []rune
	for _, r := range norm.NFKD.String(string(letter)) {
		if !unicode.Is(unicode.Mn, r) {
			out = append(out, r)
		}
	}
	return string(out)
}

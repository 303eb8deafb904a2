// Package letter puts a letter and its accent together and takes them apart, and
// reads letters set in the type of mathematics, by the tables of Unicode.
//
// It refuses to invent letters: an accent with which Unicode has no such letter
// stays a character of its own.
package letter

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

// Plain returns the letter or digit that a character prints in a style of
// mathematics, as in "𝑛 = 20", else the character itself.
func Plain(r rune) rune {
	if r < 'ℂ' || r > 'ℴ' && r < firstMath || r > lastMath {
		return r
	}
	plain := norm.NFKD.String(string(r))
	if one, n := utf8.DecodeRuneInString(plain); n == len(plain) {
		return one
	}
	return r // a sign made of several, such as ℃
}

// The block of mathematical alphanumeric symbols; letters that Unicode had before it
// stand among the letterlike symbols.
const (
	firstMath = 0x1D400
	lastMath  = 0x1D7FF
)

package lexicon

import (
	"unicode"
	"unicode/utf8"
)

// A Breaker says what stands between a word and the one before it.
type Breaker uint8

const (
	AfterComma  Breaker = 1 << iota // a comma
	AfterStrong                     // a semicolon, a colon or a dash
	AfterOpen                       // an opening bracket
	AfterClose                      // a closing bracket
	AfterColon                      // a colon; AfterStrong too
	AfterDash                       // a dash; AfterStrong too
)

// Word is one word of a text. Hyphens and apostrophes part words, so that
// "egg-cases" and "l'éclosion" show the word that matters.
type Word struct {
	Start, End int    // bytes in the text
	Fold       string // see [Fold]
	Before     Breaker
	marked     string // in lower case with its marks; "" without marks or where they cannot be told
}

// spelling is the word in lower case as printed.
func (w Word) spelling() string {
	if w.marked != "" {
		return w.marked
	}
	return w.Fold
}

// Words returns the words of text[start:end]. None has an empty Fold.
func Words(text string, start, end int) []Word {
	out := make([]Word, 0, (end-start)/6+1)
	var sep Breaker
	for i := start; i < end; {
		r, n := utf8.DecodeRuneInString(text[i:end])
		if !IsLetter(r) {
			sep |= breakOf(text, i, start, end, r)
			i += n
			continue
		}
		j := i + n
		digits := unicode.IsDigit(r)
		for j < end {
			r, n := utf8.DecodeRuneInString(text[j:end])
			if !IsLetter(r) && !(digits && isInsideNumber(text, j, end, r)) {
				break
			}
			digits = digits && !unicode.IsLetter(r)
			j += n
		}
		if fold := Fold(text[i:j]); fold != "" { // else marks alone, with no letter under them
			out = append(out, Word{i, j, fold, sep, marked(text[i:j])})
			sep = 0
		}
		i = j
	}
	return out
}

// IsLetter reports whether words are made of r: a letter, a digit, or a mark on
// one.
func IsLetter(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) || isLowered(r)
}

// isLowered reports whether r is a digit of a formula, as in "CO₂".
func isLowered(r rune) bool { return r >= '₀' && r <= '₉' }

// isInsideNumber reports whether the rune at j is a decimal or thousands
// separator: a point, comma or apostrophe with a digit behind it.
func isInsideNumber(text string, j, end int, r rune) bool {
	if r != '.' && r != ',' && r != '·' && r != '\'' {
		return false
	}
	k := j + utf8.RuneLen(r)
	return k < end && text[k] >= '0' && text[k] <= '9'
}

// breakOf says how much of a break the rune at i is.
func breakOf(text string, i, start, end int, r rune) Breaker {
	spaced := i > start && text[i-1] == ' '
	switch r {
	case ',':
		return AfterComma
	case ';':
		return AfterStrong
	case ':':
		if i+1 < end && (text[i+1] == ' ' || text[i+1] == '\n') {
			return AfterStrong | AfterColon
		}
	case '—':
		return AfterStrong | AfterDash
	case '–':
		k := i + utf8.RuneLen(r)
		if spaced && k < end && text[k] == ' ' && !digitAfter(text, k, end) {
			return AfterStrong | AfterDash
		}
	case '(', '[':
		return AfterOpen
	case ')', ']':
		return AfterClose
	}
	return 0
}

func digitAfter(text string, i, end int) bool {
	for i < end && text[i] == ' ' {
		i++
	}
	return i < end && text[i] >= '0' && text[i] <= '9'
}

// Trim narrows text[start:end] to what stands between its outer blanks.
func Trim(text string, start, end int) (int, int) {
	for start < end && isBlank(text[start]) {
		start++
	}
	for start < end && isBlank(text[end-1]) {
		end--
	}
	return start, end
}

func isBlank(b byte) bool { return b == ' ' || b == '\n' || b == '\t' || b == '\r' }

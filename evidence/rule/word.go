package rule

import (
	"unicode"
	"unicode/utf8"
)

// A breaker says what stands between a word and the one before it.
type breaker uint8

const (
	afterComma  breaker = 1 << iota // a comma
	afterStrong                     // a semicolon, a colon or a dash
	afterOpen                       // an opening bracket
	afterClose                      // a closing bracket
	afterColon                      // a colon; afterStrong too
	afterDash                       // a dash; afterStrong too
)

// word is one word of a block. Hyphens and apostrophes part words, so that
// "egg-cases" and "l'éclosion" show the word that matters.
type word struct {
	start, end int // bytes in the page
	fold       string
	before     breaker
	marked     string // in lower case with its marks; "" without marks or where they cannot be told
}

// spelling is the word in lower case as printed.
func (w word) spelling() string {
	if w.marked != "" {
		return w.marked
	}
	return w.fold
}

// words returns the words of text[start:end].
func words(text string, start, end int) []word {
	out := make([]word, 0, (end-start)/6+1)
	var sep breaker
	for i := start; i < end; {
		r, n := utf8.DecodeRuneInString(text[i:end])
		if !isWordRune(r) {
			sep |= breakOf(text, i, start, end, r)
			i += n
			continue
		}
		j := i + n
		digits := unicode.IsDigit(r)
		for j < end {
			r, n := utf8.DecodeRuneInString(text[j:end])
			if !isWordRune(r) && !(digits && isInsideNumber(text, j, end, r)) {
				break
			}
			digits = digits && !unicode.IsLetter(r)
			j += n
		}
		out = append(out, word{i, j, fold(text[i:j]), sep, marked(text[i:j])})
		sep, i = 0, j
	}
	return out
}

func isWordRune(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r)
}

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
func breakOf(text string, i, start, end int, r rune) breaker {
	spaced := i > start && text[i-1] == ' '
	switch r {
	case ',':
		return afterComma
	case ';':
		return afterStrong
	case ':':
		if i+1 < end && (text[i+1] == ' ' || text[i+1] == '\n') {
			return afterStrong | afterColon
		}
	case '—':
		return afterStrong | afterDash
	case '–':
		k := i + utf8.RuneLen(r)
		if spaced && k < end && text[k] == ' ' && !digitAfter(text, k, end) {
			return afterStrong | afterDash
		}
	case '(', '[':
		return afterOpen
	case ')', ']':
		return afterClose
	}
	return 0
}

func digitAfter(text string, i, end int) bool {
	for i < end && text[i] == ' ' {
		i++
	}
	return i < end && text[i] >= '0' && text[i] <= '9'
}

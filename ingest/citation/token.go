package citation

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// tok is a word, a number with the letter behind it, or a single mark.
type tok struct {
	start, end int
	low        string // lower case
	cap        bool   // begins with a capital
	word       bool
	inside     int // the token of the bracket that is open here, -1 for none
}

type scanner struct {
	text  string
	toks  []tok
	found []Mention
}

// cut makes words of letters with inner hyphens and apostrophes; all else but
// white space and digits is a mark of its own.
func cut(text string) []tok {
	var out []tok
	var open []int
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if unicode.IsSpace(r) || r == utf8.RuneError {
			i += n
			continue
		}
		t := tok{start: i, inside: -1}
		j := i + n
		if letter := unicode.IsLetter(r); letter || unicode.IsDigit(r) {
			j = wordEnd(text, j, letter)
			t.word = letter
			t.cap = unicode.IsUpper(r)
		}
		t.end = j
		t.low = strings.ToLower(text[i:j])
		if len(open) > 0 {
			t.inside = open[len(open)-1]
		}
		switch t.low {
		case "(", "[":
			if len(open) < 8 {
				open = append(open, len(out))
			}
		case ")", "]":
			if len(open) > 0 {
				open = open[:len(open)-1]
			}
		}
		out = append(out, t)
		i = j
	}
	return out
}

func wordEnd(text string, j int, letters bool) int {
	for j < len(text) {
		r, n := utf8.DecodeRuneInString(text[j:])
		switch {
		case unicode.IsLetter(r) || unicode.Is(unicode.Mn, r) || !letters && unicode.IsDigit(r):
		case letters && (r == '-' || r == '‐' || r == '‑' || r == '\'' || r == '’'):
			if next, _ := utf8.DecodeRuneInString(text[j+n:]); !unicode.IsLetter(next) {
				return j
			}
		default:
			return j
		}
		j += n
	}
	return j
}

func (s *scanner) is(i int, low ...string) bool {
	return i >= 0 && i < len(s.toks) && slices.Contains(low, s.toks[i].low)
}

func (s *scanner) raw(i int) string { return s.text[s.toks[i].start:s.toks[i].end] }

func plainNumber(t string) (int, bool) {
	n := 0
	for _, c := range t {
		if c < '0' || c > '9' || n > 1e6 {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, t != ""
}

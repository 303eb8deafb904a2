package name

import (
	"unicode"
	"unicode/utf8"
)

type kind uint8

const (
	letters kind = iota // a run of letters
	digits              // a run of digits
	mark                // one other character
)

type gap uint8

const (
	joined    gap = iota // nothing between this and the word before
	spaced               // blanks, or one line end
	paragraph            // an empty line, or the start of the text
)

// word is a token of a text. Emphasis marks of Markdown count as blanks.
type word struct {
	start, end int
	text       string
	kind       kind
	before     gap
	opens      bool // first word of a sentence, heading or list item
}

func split(text string) []word {
	out := make([]word, 0, len(text)/5)
	before, line := paragraph, 0
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if isBlank(r) {
			if r == '\n' {
				line++
			}
			before = max(before, spaced)
			if line > 1 {
				before = paragraph
			}
			i += n
			continue
		}
		w := word{start: i, kind: kindOf(r), before: before}
		i += n
		for w.kind != mark && i < len(text) {
			r, n = utf8.DecodeRuneInString(text[i:])
			if kindOf(r) != w.kind && !(w.kind == letters && unicode.Is(unicode.Mn, r)) {
				break
			}
			i += n
		}
		w.end, w.text = i, text[w.start:i]
		w.opens = opens(out, before)
		out = append(out, w)
		before, line = joined, 0
	}
	return out
}

func isBlank(r rune) bool { return unicode.IsSpace(r) || r == '*' || r == '_' || r == '\u00ad' }

func kindOf(r rune) kind {
	switch {
	case r < utf8.RuneSelf:
		switch {
		case 'a' <= r && r <= 'z', 'A' <= r && r <= 'Z':
			return letters
		case '0' <= r && r <= '9':
			return digits
		}
		return mark
	case unicode.IsLetter(r):
		return letters
	case unicode.IsDigit(r):
		return digits
	}
	return mark
}

// opens reports whether a word that follows done starts a sentence. A full
// stop after one letter or a usual abbreviation does not end one.
func opens(done []word, before gap) bool {
	if before == paragraph {
		return true
	}
	if before == joined || len(done) == 0 {
		return false
	}
	last := done[len(done)-1]
	switch last.text {
	case "!", "?", "•", "·", ":":
		return true
	case "-", "–", "—":
		return last.opens // a list item
	case ")":
		return len(done) > 1 && done[len(done)-2].kind == digits && done[len(done)-2].opens
	case ".":
		if len(done) < 2 {
			return true
		}
		w := done[len(done)-2]
		return !(w.kind == letters && (utf8.RuneCountInString(w.text) == 1 || shortened[w.text]))
	}
	return false
}

// shortened are abbreviations whose full stop ends no sentence.
var shortened = map[string]bool{"cf": true, "aff": true, "nr": true, "al": true, "ca": true, "approx": true, "Fig": true,
	"fig": true, "Figs": true, "Tab": true, "vs": true, "var": true, "ssp": true, "subsp": true, "Ae": true, "An": true, "Cx": true, "Oc": true, "Dr": true}

func isCapital(s string) bool { // "Triops", not "TRIOPS"
	r, n := utf8.DecodeRuneInString(s)
	return unicode.IsUpper(r) && n < len(s) && isLower(s[n:])
}

func isLower(s string) bool {
	for _, r := range s {
		if !unicode.IsLower(r) {
			return false
		}
	}
	return s != ""
}

// startsUpper reports whether s begins with a capital.
func startsUpper(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsUpper(r)
}

func isUpper(s string) bool {
	for _, r := range s {
		if !unicode.IsUpper(r) {
			return false
		}
	}
	return s != ""
}

func capitalised(lower string) string {
	r, n := utf8.DecodeRuneInString(lower)
	return string(unicode.ToUpper(r)) + lower[n:]
}

package reference

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A letter that a file's font does not tell is printed as the replacement
// character: "P�rtner". While a list is read it is a letter that no name
// has, of as many bytes, so that names stay whole and places what they are.
const (
	lostLetter = "\ufffd"
	lostMark   = "\ua7fb"
)

// markLost marks lost letters between letters. Elsewhere the character may be
// a dash or a blank.
func markLost(text string) string {
	if !strings.Contains(text, lostLetter) {
		return text
	}
	var b strings.Builder
	for i := 0; i < len(text); {
		_, n := utf8.DecodeRuneInString(text[i:])
		before, _ := utf8.DecodeLastRuneInString(text[:i])
		after, _ := utf8.DecodeRuneInString(text[i+n:])
		if text[i:i+n] == lostLetter && unicode.IsLetter(before) && unicode.IsLetter(after) {
			b.WriteString(lostMark)
		} else {
			b.WriteString(text[i : i+n])
		}
		i += n
	}
	return b.String()
}

// showLost writes lost letters as they were printed.
func (e *Entry) showLost() {
	if !strings.Contains(e.Raw, lostMark) {
		return
	}
	for _, field := range []*string{&e.Raw, &e.Title, &e.Journal} {
		*field = strings.ReplaceAll(*field, lostMark, lostLetter)
	}
	for i := range e.Authors {
		a := &e.Authors[i]
		a.Family, a.Given = strings.ReplaceAll(a.Family, lostMark, lostLetter), strings.ReplaceAll(a.Given, lostMark, lostLetter)
	}
}

// HasLost reports whether letters of a name are lost.
func HasLost(name string) bool { return strings.Contains(name, lostLetter) }

// sameButLost compares names of which one has lost letters: each may stand for
// one letter, or for two as ß does.
func sameButLost(a, b string) bool {
	if HasLost(b) {
		a, b = b, a
	}
	if !HasLost(a) || HasLost(b) {
		return false
	}
	var parts []string
	for part := range strings.SplitSeq(a, lostLetter) {
		parts = append(parts, regexp.QuoteMeta(Fold(part)))
	}
	match, err := regexp.MatchString("^"+strings.Join(parts, `\pL{1,2}`)+"$", Fold(b))
	return match && err == nil
}

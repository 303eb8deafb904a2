// Package number marks the numbers of a text that must not be taken as they
// stand, because of a character that is lost, unmapped or probably misread.
//
// It refuses to mend them: of what the sign was that is missing, only the print
// can tell.
package number

import (
	"regexp"
	"slices"
	"strings"

	"hatchlore/ingest"
)

// doubtful finds a number that a lost character touches, or two numbers with a
// lost sign between them: what stood there may have been a decimal point, a
// minus, a plus-minus or a digit.
var doubtful = regexp.MustCompile(`[0-9][0-9.,·]*(?: ?\x{FFFD}+(?: ?[0-9.,·]+)?)+|\x{FFFD}+ ?[0-9][0-9.,·]*`)

var number = regexp.MustCompile(`[0-9][0-9.,·]*`)

// At marks the numbers that have a digit at one of the given places,
// which are bytes of the text.
func At(text string, places []int, kind ingest.MarkKind) []ingest.Mark {
	if len(places) == 0 {
		return nil
	}
	var out []ingest.Mark
	for _, m := range number.FindAllStringIndex(text, -1) {
		if slices.ContainsFunc(places, func(d int) bool { return d >= m[0] && d < m[1] }) {
			out = append(out, ingest.Mark{Start: m[0], End: m[1], Kind: kind, Raw: text[m[0]:m[1]]})
		}
	}
	return out
}

// Untrusted marks the numbers that lost characters spoil.
func Untrusted(text string, known []ingest.Mark) []ingest.Mark {
	if !strings.ContainsRune(text, ingest.Lost) {
		return nil
	}
	var out []ingest.Mark
	for _, m := range doubtful.FindAllStringIndex(text, -1) {
		if !overlaps(known, m[0], m[1]) {
			out = append(out, ingest.Mark{Start: m[0], End: m[1], Kind: ingest.Untrusted, Raw: text[m[0]:m[1]]})
		}
	}
	return out
}

func overlaps(marks []ingest.Mark, start, end int) bool {
	for _, m := range marks {
		if m.Kind == ingest.Untrusted && m.Start < end && start < m.End {
			return true
		}
	}
	return false
}

// Superscript returns the raised form of a character, 0 if it has none.
func Superscript(r rune) rune {
	switch r {
	case '1':
		return '¹'
	case '2':
		return '²'
	case '3':
		return '³'
	case '-', '−', '–', '\u2010', '\u2011':
		return '⁻'
	case '+':
		return '⁺'
	}
	if r >= '0' && r <= '9' {
		return '⁰' + r - '0'
	}
	return 0
}

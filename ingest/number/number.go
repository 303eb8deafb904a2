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

// spread is digits that stand alone side by side before a unit or a word: a number
// that was set wide, or whose first digit is a large initial, or several numbers.
var spread = regexp.MustCompile(`(?:^|[^0-9.,·/\pL–-])([0-9](?: [0-9])+) ?[°µ%‰\pL]`)

// grouped is a number there whose thousands are parted by a space as between words;
// it may as well be two.
var grouped = regexp.MustCompile(`(?:^|[^0-9.,·/\pL–-])([1-9][0-9]{0,2}(?: [0-9]{3})+) ?[°µ%‰\pL]`)

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

// Apart marks the digits of a running text of which nobody can tell whether they
// are one number or several.
func Apart(text string) []ingest.Mark {
	if !digitsApart(text) {
		return nil
	}
	var out []ingest.Mark
	mark := func(start, end int) {
		out = append(out, ingest.Mark{Start: start, End: end, Kind: ingest.Untrusted, Raw: text[start:end]})
	}
	for _, m := range spread.FindAllStringSubmatchIndex(text, -1) {
		mark(m[2], m[3])
	}
	for _, m := range grouped.FindAllStringSubmatchIndex(text, -1) {
		if strings.Trim(text[m[2]+strings.IndexByte(text[m[2]:], ' '):m[3]], " 0") != "" {
			mark(m[2], m[3]) // "12 000" is one number
		}
	}
	return out
}

// digitsApart reports whether two digits have one space between them: few lines
// have, and the patterns are slow.
func digitsApart(text string) bool {
	isDigit := func(b byte) bool { return b >= '0' && b <= '9' }
	for i := 1; i+1 < len(text); i++ {
		if text[i] == ' ' && isDigit(text[i-1]) && isDigit(text[i+1]) {
			return true
		}
	}
	return false
}

func overlaps(marks []ingest.Mark, start, end int) bool {
	for _, m := range marks {
		if m.Kind == ingest.Untrusted && m.Start < end && start < m.End {
			return true
		}
	}
	return false
}

// ThinSpace parts groups of digits in a text, so that "1 200" is one number and
// two numbers side by side are not.
const ThinSpace = '\u202F'

// IsThin reports whether a space is one of those that typesetters put between
// groups of digits: unbreakable, or narrower than others.
func IsThin(r rune) bool { return r == '\u00A0' || r == ThinSpace || r >= '\u2006' && r <= '\u200A' }

// Subscript returns the lowered form of a digit, 0 for any other character.
func Subscript(r rune) rune {
	if r >= '0' && r <= '9' {
		return '₀' + r - '0'
	}
	return 0
}

// fractions are the signs of Unicode for the commonest fractions.
var fractions = map[[2]rune]rune{
	{'1', '2'}: '½', {'1', '3'}: '⅓', {'2', '3'}: '⅔', {'1', '4'}: '¼', {'3', '4'}: '¾', {'1', '5'}: '⅕', {'2', '5'}: '⅖', {'3', '5'}: '⅗', {'4', '5'}: '⅘',
	{'1', '6'}: '⅙', {'5', '6'}: '⅚', {'1', '8'}: '⅛', {'3', '8'}: '⅜', {'5', '8'}: '⅝', {'7', '8'}: '⅞',
}

// Fraction returns the sign for a fraction of two digits, 0 where there is none.
func Fraction(over, under rune) rune { return fractions[[2]rune{over, under}] }

// CutFraction takes a raised digit and the slash behind it off the end of a text.
func CutFraction(text string) (over rune, rest string, ok bool) {
	r := []rune(text)
	n := len(r)
	if n < 2 || r[n-1] != '/' && r[n-1] != '\u2044' || n > 2 && IsScript(r[n-3]) {
		return 0, "", false
	}
	for d := '0'; d <= '9'; d++ {
		if Superscript(d) == r[n-2] {
			return d, string(r[:n-2]), true
		}
	}
	return 0, "", false
}

// IsScript reports whether a character is a raised or lowered digit.
func IsScript(r rune) bool {
	return r == '¹' || r == '²' || r == '³' || r == '⁰' || r >= '⁴' && r <= '⁹' || r >= '₀' && r <= '₉'
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

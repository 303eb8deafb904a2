package ingest

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// doubtful finds a number that a lost character touches, or two numbers with a
// lost sign between them: what stood there may have been a decimal point, a
// minus, a plus-minus or a digit.
var doubtful = regexp.MustCompile(`[0-9][0-9.,·]*(?: ?\x{FFFD}+(?: ?[0-9.,·]+)?)+|\x{FFFD}+ ?[0-9][0-9.,·]*`)

var number = regexp.MustCompile(`[0-9][0-9.,·]*`)

// codedNumbers marks the numbers with digits that the font does not map.
func (w *lineWriter) codedNumbers(text string) []Mark {
	if w.codes == codesRead {
		return w.numbersWith(text, w.digits, Inferred)
	}
	return w.numbersWith(text, w.digits, Untrusted)
}

// numbersWith marks the numbers that have a digit at one of the given places.
func (w *lineWriter) numbersWith(text string, places []int, kind MarkKind) []Mark {
	if len(places) == 0 {
		return nil
	}
	var out []Mark
	for _, m := range number.FindAllStringIndex(text, -1) {
		if slices.ContainsFunc(places, func(d int) bool { return d >= m[0] && d < m[1] }) {
			out = append(out, Mark{m[0], m[1], kind, text[m[0]:m[1]]})
		}
	}
	return out
}

// untrusted marks the numbers that lost characters spoil.
func untrusted(text string, known []Mark) []Mark {
	if !strings.ContainsRune(text, lost) {
		return nil
	}
	var out []Mark
	for _, m := range doubtful.FindAllStringIndex(text, -1) {
		if !overlaps(known, m[0], m[1]) {
			out = append(out, Mark{m[0], m[1], Untrusted, text[m[0]:m[1]]})
		}
	}
	return out
}

func overlaps(marks []Mark, start, end int) bool {
	for _, m := range marks {
		if m.Kind == Untrusted && m.Start < end && start < m.End {
			return true
		}
	}
	return false
}

// glued matches a number with its unit set against it. Units of one letter are
// left alone: 16S and 2n are words of their own.
var glued = regexp.MustCompile(`([0-9])((?:mm|cm|km|nm|[µu]m|ml|mL|[µu]l|[µu]L|mg|[µu]g|kg|mM|[µu]M|nM|ppt|ppm|psu|PSU|mS|[µu]S|kPa|hPa|Pa|min|hrs?|°C|°F|days?|weeks?|months?|years?)(?:[^\pL\pN]|$))`)

// unglue puts a space between a number and its unit. It returns the text and
// the marks moved with it.
func unglue(s *strip) {
	if !touches(s.text) {
		return
	}
	found := glued.FindAllStringSubmatchIndex(s.text, -1)
	if found == nil {
		return
	}
	var b []byte
	from := 0
	shift := make([]int, 0, len(found))
	for _, m := range found {
		cut := m[4]
		b = append(b, s.text[from:cut]...)
		b = append(b, ' ')
		from = cut
		shift = append(shift, cut)
	}
	s.text = string(append(b, s.text[from:]...))
	move := func(pos int, end bool) int {
		n := 0
		for _, cut := range shift {
			if cut < pos || cut == pos && !end {
				n++
			}
		}
		return pos + n
	}
	for i := range s.marks {
		s.marks[i].Start, s.marks[i].End = move(s.marks[i].Start, false), move(s.marks[i].End, true)
	}
	for i := range s.cells {
		s.cells[i].Start, s.cells[i].End = move(s.cells[i].Start, false), move(s.cells[i].End, true)
	}
}

// touches reports whether a digit stands right before something that is neither
// a digit nor a blank nor the usual punctuation: few lines have one, and the
// pattern is slow.
func touches(text string) bool {
	for i := 1; i < len(text); i++ {
		if d := text[i-1]; d >= '0' && d <= '9' && (text[i] >= 'A' && text[i] != '[' && text[i] != ']') {
			return true
		}
	}
	return false
}

// lastRune returns the last rune of s, 0 for an empty string.
func lastRune(s string) rune {
	if s == "" {
		return 0
	}
	r, _ := utf8.DecodeLastRuneInString(s)
	return r
}

// firstRune returns the first rune of s, 0 for an empty string.
func firstRune(s string) rune {
	if s == "" {
		return 0
	}
	r, _ := utf8.DecodeRuneInString(s)
	return r
}

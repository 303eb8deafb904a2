package textfile

import (
	"strings"
	"unicode"

	"hatchlore/ingest/number"
)

// spaced returns a text on one line, runs of space made one, and without the
// characters that show nothing. A space that may not break, or is thinner than
// others, between groups of digits stays as such.
func spaced(s string) string {
	var b strings.Builder
	text := []rune(strings.TrimFunc(s, unicode.IsSpace))
	for i := 0; i < len(text); i++ {
		r := text[i]
		switch {
		case isVoid(r):
		case !unicode.IsSpace(r):
			b.WriteRune(r)
		default:
			from := i
			for i+1 < len(text) && unicode.IsSpace(text[i+1]) {
				i++
			}
			if from == i && number.IsThin(r) && from > 0 && isDigit(text[from-1]) && groupAt(text[i+1:]) {
				b.WriteRune(number.ThinSpace)
			} else {
				b.WriteByte(' ')
			}
		}
	}
	return b.String()
}

// isVoid reports whether a character shows nothing: soft hyphens, joiners, marks of
// direction.
func isVoid(r rune) bool {
	return r == '\u00AD' || r >= '\u200B' && r <= '\u200F' || r >= '\u202A' && r <= '\u202E' || r >= '\u2060' && r <= '\u2069' || r == '\uFEFF'
}

// groupAt reports whether a text begins with a group of three digits.
func groupAt(text []rune) bool {
	return len(text) >= 3 && isDigit(text[0]) && isDigit(text[1]) && isDigit(text[2]) && (len(text) == 3 || !isDigit(text[3]))
}

package reference

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/ingest/letter"
)

// particles belong to the family name behind them.
var particles = []string{"van", "von", "der", "den", "de", "du", "des", "del", "della", "di", "da", "do", "dos", "das", "la", "le", "ter", "ten", "zu", "zur", "el", "al", "af", "av"}

// Particle reports whether word, in small letters, belongs to the family name
// behind it: "van", "de".
func Particle(word string) bool { return slices.Contains(particles, word) }

// Fold makes two printings of one name or title the same: case, accents,
// hyphens, blanks and all marks are folded away, and "oe" is "ö". It is for
// comparing, not for showing.
func Fold(s string) string { return digraphs.Replace(spell(s)) }

var digraphs = strings.NewReplacer("ae", "a", "oe", "o", "ue", "u")

// spell folds case and accents and drops all but letters and digits.
func spell(s string) string {
	b := make([]byte, 0, len(s))
	for _, r := range strings.ToLower(s) {
		if r < utf8.RuneSelf {
			if 'a' <= r && r <= 'z' || '0' <= r && r <= '9' {
				b = append(b, byte(r))
			}
			continue
		}
		if t, ok := spelled[r]; ok {
			b = append(b, t...)
		} else if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b = append(b, letter.Bare(r)...)
		}
	}
	return string(b)
}

// spelled are the small letters of Latin script that are no others with an accent,
// as library catalogues spell them.
var spelled = map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ð': "d", 'þ': "th", 'ł': "l", 'đ': "d", 'ı': "i"}

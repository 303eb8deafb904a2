package reference

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
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
		if t, ok := asciiOf[r]; ok {
			b = append(b, t...)
		} else if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b = utf8.AppendRune(b, r)
		}
	}
	return string(b)
}

// asciiOf spells letters in ASCII, the way library catalogues do.
var asciiOf = func() map[rune]string {
	m := map[rune]string{'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'å': "a", 'ð': "d", 'þ': "th", 'ł': "l", 'đ': "d", 'ı': "i",
		'ﬀ': "ff", 'ﬁ': "fi", 'ﬂ': "fl", 'ﬃ': "ffi", 'ﬄ': "ffl"}
	for ascii, letters := range map[string]string{
		"a": "àáâãäăąā", "c": "çćčĉ", "d": "ď", "e": "èéêëěęėē", "g": "ğģ", "i": "ìíîïīį", "k": "ķ", "l": "ľĺļ",
		"n": "ñńňņ", "o": "òóôõöőō", "r": "řŕ", "s": "śšşș", "t": "ťţț", "u": "ùúûüůűūų", "y": "ýÿ", "z": "źžż",
	} {
		for _, r := range letters {
			m[r] = ascii
		}
	}
	return m
}()

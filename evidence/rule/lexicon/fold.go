package lexicon

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// folds maps letters with marks to the plain letters that stand for them in
// cue files and in the comparison of words. Scans and old typesetters lose
// accents; folding both sides keeps the cue.
var folds = map[rune]string{
	'à': "a", 'á': "a", 'â': "a", 'ã': "a", 'ä': "a", 'å': "a", 'ą': "a",
	'ç': "c", 'ć': "c", 'č': "c", 'è': "e", 'é': "e", 'ê': "e", 'ë': "e", 'ę': "e",
	'ì': "i", 'í': "i", 'î': "i", 'ï': "i", 'ł': "l", 'ñ': "n", 'ń': "n",
	'ò': "o", 'ó': "o", 'ô': "o", 'õ': "o", 'ö': "o", 'ø': "o", 'œ': "oe", 'æ': "ae",
	'ù': "u", 'ú': "u", 'û': "u", 'ü': "u", 'ý': "y", 'ÿ': "y", 'š': "s", 'ś': "s",
	'ß': "ss", 'ž': "z", 'ź': "z", 'ż': "z",
	'ﬁ': "fi", 'ﬂ': "fl", 'ﬀ': "ff", 'ﬃ': "ffi", 'ﬄ': "ffl",
}

// marked returns s in lower case where it has letters with marks, else "". Marks
// printed as characters of their own tell nothing.
func marked(s string) string {
	has := false
	for _, r := range s {
		if unicode.Is(unicode.Mn, r) {
			return ""
		}
		has = has || r >= utf8.RuneSelf
	}
	if !has {
		return ""
	}
	return strings.ToLower(s)
}

// Fold returns s in lower case without marks on its letters. A word of one
// letter keeps its mark: Italian and Portuguese "is" and "and" differ in it
// alone.
func Fold(s string) string {
	if utf8.RuneCountInString(s) == 1 {
		return strings.ToLower(s)
	}
	plain := true
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf || 'A' <= s[i] && s[i] <= 'Z' {
			plain = false
			break
		}
	}
	if plain {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	for _, r := range s {
		r = unicode.ToLower(r)
		switch {
		case unicode.Is(unicode.Mn, r): // a mark printed as a character of its own
		case isLowered(r):
			b.WriteRune(r - '₀' + '0')
		case r < utf8.RuneSelf:
			b.WriteByte(byte(r))
		case folds[r] != "":
			b.WriteString(folds[r])
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

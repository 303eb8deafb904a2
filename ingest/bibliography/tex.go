package bibliography

import (
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/ingest/letter"
)

// plainTeX turns a TeX value into plain text: accents composed, commands and
// braces dropped, white space folded.
func plainTeX(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		switch s[i] {
		case '{', '}', '$':
			i++
		case '~':
			b.WriteByte(' ')
			i++
		case '-':
			n := 0
			for i < len(s) && s[i] == '-' {
				n++
				i++
			}
			b.WriteString([]string{"-", "–", "—"}[min(n, 3)-1])
		case '\\':
			i = command(&b, s, i+1)
		default:
			_, n := utf8.DecodeRuneInString(s[i:])
			b.WriteString(s[i : i+n])
			i += n
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// texLetters are commands that stand for one letter or sign.
var texLetters = map[string]string{"ss": "ß", "o": "ø", "O": "Ø", "aa": "å", "AA": "Å", "ae": "æ", "AE": "Æ", "oe": "œ", "OE": "Œ",
	"l": "ł", "L": "Ł", "i": "ı", "j": "ȷ", "textbackslash": "\\", "textasciitilde": "~", "textasciicircum": "^", "textdegree": "°", "textmu": "µ", "times": "×", "pm": "±"}

// texAccents are the commands that set an accent over or under a letter, with the
// combining character for each.
var texAccents = map[string]rune{"`": '\u0300', "'": '\u0301', "^": '\u0302', "~": '\u0303', "=": '\u0304', "u": '\u0306', ".": '\u0307', "\"": '\u0308',
	"r": '\u030A', "H": '\u030B', "v": '\u030C', "d": '\u0323', "c": '\u0327', "k": '\u0328', "b": '\u0331'}

// command writes what the command whose name begins at s[i] stands for, and
// returns the place behind it.
func command(b *strings.Builder, s string, i int) int {
	start := i
	for i < len(s) && (s[i] >= 'a' && s[i] <= 'z' || s[i] >= 'A' && s[i] <= 'Z') {
		i++
	}
	if i == start && i < len(s) {
		_, n := utf8.DecodeRuneInString(s[i:])
		i += n
	}
	name := s[start:i]
	if mark, ok := texAccents[name]; ok {
		if text, n := accented(s[i:], mark); n > 0 {
			b.WriteString(text)
			return i + n
		}
		return i
	}
	if name != "" && (name[0] >= 'a' && name[0] <= 'z' || name[0] >= 'A' && name[0] <= 'Z') {
		b.WriteString(texLetters[name])
		if strings.HasPrefix(s[i:], "{}") {
			return i + 2
		}
		for i < len(s) && s[i] == ' ' { // a space ends the command
			i++
		}
		return i
	}
	b.WriteString(name)
	return i
}

// accented reads the letter that an accent stands over: "{o}", "o", "\i".
func accented(s string, mark rune) (text string, n int) {
	i := 0
	for i < len(s) && (s[i] == ' ' || s[i] == '{') {
		i++
	}
	if strings.HasPrefix(s[i:], "\\i") || strings.HasPrefix(s[i:], "\\j") {
		i++
	}
	if i >= len(s) {
		return "", 0
	}
	r, size := utf8.DecodeRuneInString(s[i:])
	text = s[i : i+size]
	if whole := letter.Compose(r, mark); whole != 0 {
		text = string(whole)
	} else if unicode.IsLetter(r) {
		text += string(mark)
	}
	return text, i + size
}

// texOf escapes what TeX would read as a command.
func texOf(s string) string { return texEscapes.Replace(strings.Join(strings.Fields(s), " ")) }

// nameTeX is texOf for a part of a name, where "and" and a comma would split it.
func nameTeX(s string) string {
	words := strings.Fields(texOf(s))
	for i, w := range words {
		if strings.EqualFold(w, "and") || strings.Contains(w, ",") {
			words[i] = "{" + w + "}"
		}
	}
	return strings.Join(words, " ")
}

var texEscapes = strings.NewReplacer(texPairs()...)

func texPairs() []string {
	m := map[string]string{"\\": "\\textbackslash{}", "{": "\\{", "}": "\\}", "~": "\\textasciitilde{}", "^": "\\textasciicircum{}", "--": "-{}-"}
	for _, c := range "&%$#_" {
		m[string(c)] = "\\" + string(c)
	}
	var out []string
	for _, k := range slices.Sorted(maps.Keys(m)) {
		out = append(out, k, m[k])
	}
	return out
}

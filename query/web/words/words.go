// Package words writes what every view of the local page says: headings,
// sentences, numbers that keep their units.
//
// It refuses to know what is said; the words of a trade are where the views
// are.
package words

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Capitalised begins with a capital letter.
func Capitalised(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 || !unicode.IsLower(first) || first == 'µ' || first == 'μ' {
		return s // a sign of micro in capitals is another letter
	}
	return string(unicode.ToUpper(first)) + s[n:]
}

// Heading begins with a capital letter and keeps numbers and their units on one
// line.
func Heading(s string) string { return unitsKept(Capitalised(s)) }

// unitsKept keeps a number and its unit on one line.
func unitsKept(s string) string {
	words := strings.Split(s, " ")
	var b strings.Builder
	for i, w := range words {
		switch before := words[max(0, i-1)]; {
		case i == 0:
		case before != "" && unicode.IsDigit(rune(before[len(before)-1])) && isUnit(w):
			b.WriteString("\u00a0")
		default:
			b.WriteString(" ")
		}
		b.WriteString(w)
	}
	return b.String()
}

func isUnit(word string) bool {
	switch strings.TrimRight(word, "?.,;:)") {
	case "%", "°C", "°F", "d", "h", "min", "m", "mg/L", "g/L", "µS/cm", "mS/cm":
		return true
	}
	return false
}

// Sentence writes a message, which begins small and ends open, as a sentence.
func Sentence(s string) string {
	s = Capitalised(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!") {
		return s
	}
	return s + "."
}

// Pass makes a map of names and values, for a part of a template that takes
// several.
func Pass(pairs ...any) (map[string]any, error) {
	out := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		name, ok := pairs[i].(string)
		if !ok {
			return nil, fmt.Errorf("pass: %v is no name", pairs[i])
		}
		out[name] = pairs[i+1]
	}
	return out, nil
}

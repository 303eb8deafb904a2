package main

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"unicode"
)

// hyphenator finds the places where a word may be broken, by Liang's method
// (F. M. Liang, Word Hy-phen-a-tion by Com-put-er, 1983) with the pattern
// files that come with TeX, because a headless browser has none of its own.
type hyphenator map[string][]int

// newHyphenator loads the patterns of a language: en, de or fr.
func newHyphenator(lang string) (hyphenator, error) {
	file := map[string]string{"en": "hyphen.tex", "de": "hyph-de-1996.pat.txt", "fr": "hyph-fr.pat.txt"}[lang]
	path, err := exec.Command("kpsewhich", file).Output()
	if err != nil {
		return nil, fmt.Errorf("no hyphenation patterns %q for %q: %w", file, lang, err)
	}
	data, err := os.ReadFile(strings.TrimSpace(string(path)))
	if err != nil {
		return nil, err
	}
	h := hyphenator{}
	patterns := string(data)
	if _, inside, ok := strings.Cut(patterns, `\patterns{`); ok {
		patterns, _, _ = strings.Cut(inside, "}")
	}
	for _, p := range strings.Fields(patterns) {
		h.add(p)
	}
	return h, nil
}

// add takes a pattern such as "hy3ph": letters, and between them how much a
// break there is wanted (odd) or unwanted (even).
func (h hyphenator) add(pattern string) {
	var letters strings.Builder
	points := []int{0}
	for _, r := range pattern {
		if unicode.IsDigit(r) {
			points[len(points)-1] = int(r - '0')
			continue
		}
		letters.WriteRune(r)
		points = append(points, 0)
	}
	h[letters.String()] = points
}

// word returns w with soft hyphens, at least three letters from either end.
func (h hyphenator) word(w string) string {
	letters := []rune(w)
	if len(letters) < 7 {
		return w
	}
	padded := []rune("." + strings.ToLower(w) + ".")
	points := make([]int, len(padded)+1)
	for i := range padded {
		for j := i + 1; j <= len(padded); j++ {
			for k, v := range h[string(padded[i:j])] {
				points[i+k] = max(points[i+k], v)
			}
		}
	}
	var b strings.Builder
	for i, r := range letters {
		if i >= 3 && i <= len(letters)-3 && points[i+1]%2 == 1 {
			b.WriteRune('\u00ad')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// text puts soft hyphens into every word of s, leaving all else alone.
func (h hyphenator) text(s string) string {
	var b, w strings.Builder
	flush := func() {
		b.WriteString(h.word(w.String()))
		w.Reset()
	}
	for _, r := range s {
		if unicode.IsLetter(r) {
			w.WriteRune(r)
			continue
		}
		flush()
		b.WriteRune(r)
	}
	flush()
	return b.String()
}

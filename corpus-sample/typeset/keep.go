package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"unicode"
)

const softHyphen = '\u00ad'

// keep rewrites a browser's page so that only those soft hyphens stay at which
// its first print broke a line: a browser prints the unused ones into the
// text of the PDF, where no journal has them.
func keep(build, name string) error {
	page, printed := filepath.Join(build, name+".html"), filepath.Join(build, name+".pdf")
	text, err := exec.Command("pdftotext", "-raw", "-enc", "UTF-8", printed, "-").Output()
	if err != nil {
		return fmt.Errorf("pdftotext: %w", err)
	}
	src, err := os.ReadFile(page)
	if err != nil {
		return err
	}
	words, hyphens := visible([]rune(string(src)))
	used := map[int]bool{}
	for _, b := range lineBreaks(string(text)) {
		if i := strings.Index(words, b.before+b.after); i >= 0 {
			used[i+len(b.before)] = true
		}
	}
	var out strings.Builder
	for i, r := range []rune(string(src)) {
		if at, ok := hyphens[i]; r != softHyphen || (ok && used[at]) {
			out.WriteRune(r)
		}
	}
	return os.WriteFile(page, []byte(out.String()), 0o644)
}

// visible is the letters outside tags, and where among them (in bytes) each
// soft hyphen stands, by its place in the page.
func visible(page []rune) (string, map[int]int) {
	var b strings.Builder
	hyphens := map[int]int{}
	inTag := false
	for i, r := range page {
		switch {
		case r == '<' || r == '>':
			inTag = r == '<'
		case inTag:
		case r == softHyphen:
			hyphens[i] = b.Len()
		case unicode.IsLetter(r):
			b.WriteRune(unicode.ToLower(r))
		}
	}
	return b.String(), hyphens
}

type lineBreak struct{ before, after string }

// lineBreaks finds the hyphens at line ends of a text in the raw order of
// pdftotext, each with some letters on either side. There a soft hyphen ends a
// line in any case, and the printed hyphen follows on a line of its own.
func lineBreaks(text string) []lineBreak {
	var out []lineBreak
	parts := strings.Split(text, "\u00ad\n-\n")
	for i := 1; i < len(parts); i++ {
		before, after := onlyLetters(parts[i-1]), onlyLetters(parts[i])
		out = append(out, lineBreak{before[max(0, len(before)-14):], after[:min(6, len(after))]})
	}
	return out
}

func onlyLetters(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

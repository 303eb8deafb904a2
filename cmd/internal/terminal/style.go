package terminal

import (
	"io"
	"os"
	"slices"
	"strings"

	"golang.org/x/term"
)

// Style says whether print may be emphasised: on a terminal, unless NO_COLOR
// is set (no-color.org).
type Style bool

// StyleOf returns the style of what is printed to w.
func StyleOf(w io.Writer) Style {
	f, ok := w.(*os.File)
	return Style(ok && term.IsTerminal(int(f.Fd())) && os.Getenv("NO_COLOR") == "")
}

// Bold emphasises s by ECMA-48 sequences.
func (st Style) Bold(s string) string {
	if !st || s == "" {
		return s
	}
	return "\x1b[1m" + s + "\x1b[0m"
}

// Words emphasises the given words wherever they stand in a line.
func (st Style) Words(line string, words []string) string {
	if !st {
		return line
	}
	// The longest first, so that a word is not cut by a shorter one inside it.
	words = slices.SortedStableFunc(slices.Values(words), func(a, b string) int { return len(b) - len(a) })
	var pairs []string
	for _, w := range words {
		pairs = append(pairs, w, st.Bold(w))
	}
	return strings.NewReplacer(pairs...).Replace(line)
}

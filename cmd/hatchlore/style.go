package main

import (
	"io"
	"os"
	"slices"
	"strings"

	"golang.org/x/term"

	"hatchlore/query"
)

// style says whether print may be emphasised: on a terminal, unless NO_COLOR
// is set (no-color.org).
type style bool

func styled(w io.Writer) style {
	f, ok := w.(*os.File)
	return style(ok && term.IsTerminal(int(f.Fd())) && os.Getenv("NO_COLOR") == "")
}

// bold emphasises s by ECMA-48 sequences.
func (st style) bold(s string) string {
	if !st || s == "" {
		return s
	}
	return "\x1b[1m" + s + "\x1b[0m"
}

// words emphasises in a folded line the words that a search found. Folding
// has moved them, so they are found again by their letters.
func (st style) words(line string, h query.Hit) string {
	if !st {
		return line
	}
	runes := []rune(h.Snippet)
	var found []string
	for _, m := range h.Marks {
		if w := string(runes[m[0]:m[1]]); w != "" && !strings.ContainsAny(w, " \n") {
			found = append(found, w)
		}
	}
	// The longest first, so that a word is not cut by a shorter one inside it.
	slices.SortStableFunc(found, func(a, b string) int { return len(b) - len(a) })
	var pairs []string
	for _, w := range found {
		pairs = append(pairs, w, st.bold(w))
	}
	return strings.NewReplacer(pairs...).Replace(line)
}

package query

import (
	"strings"
	"testing"
)

func TestWholeWords(t *testing.T) {
	run := strings.Repeat("x", around)
	words := strings.Repeat("word ", around/5)
	for _, c := range []struct{ before, after, wantBefore, wantAfter string }{
		{"At 5 °C ", " they hatched", "At 5 °C ", " they hatched"},                      // the page ends before the text is cut
		{"ds " + words, " " + words + "ne", words, " " + strings.TrimRight(words, " ")}, // cut within a word
		{run, run, run, run}, // nowhere to cut
	} {
		if before, after := wholeWords(c.before, c.after); before != c.wantBefore || after != c.wantAfter {
			t.Errorf("%q and %q are cut to %q and %q, want %q and %q", c.before, c.after, before, after, c.wantBefore, c.wantAfter)
		}
	}
}

package terminal

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestFold(t *testing.T) {
	for _, c := range []struct {
		text  string
		width int
		want  []string
	}{
		{"", 10, []string{""}},
		{"eggs hatched at 8 °C", 10, []string{"eggs", "hatched at", "8 °C"}},
		{"unbreakableword", 6, []string{"unbrea", "kablew", "ord"}},
		{"日本語の卵", 4, []string{"日本", "語の", "卵"}},
		{"a\nb", 9, []string{"a", "b"}},
	} {
		if diff := cmp.Diff(c.want, Fold(c.text, c.width)); diff != "" {
			t.Errorf("%q at %d (-want +got):\n%s", c.text, c.width, diff)
		}
	}
}

// What a PDF printed must not steer the
func TestClean(t *testing.T) {
	for printed, want := range map[string]string{
		"a\x1b[31mred\u009b0m\r\nb\x00 c":             "a [31mred 0m b c",
		"5\u00a0°C, 6\u202f°C":                        "5\u00a0°C, 6\u202f°C",
		"one\u2028two\u2003three":                     "one two three",
		"day \u202e41\u202c of \u2066x\u2069 as told": "day 41 of x as told",
	} {
		if got := Clean(printed); got != want {
			t.Errorf("%q: %q, want %q", printed, got, want)
		}
	}
}

func TestGridFitsItsWidth(t *testing.T) {
	g := &Grid{Heads: []string{"day", "do", "dishes"}}
	g.Add("2026-01-10", "wet and hold at 4 °C for ninety days", strings.Repeat("ABC ", 40))
	g.Under(strings.Repeat("word ", 60))
	for _, width := range []int{60, 80, 200} {
		var b strings.Builder
		if err := g.Print(&b, 2, width); err != nil {
			t.Fatal(err)
		}
		for l := range strings.Lines(b.String()) {
			if n := len([]rune(strings.TrimRight(l, "\n"))); n > width {
				t.Errorf("a line of %d columns in a width of %d: %q", n, width, l)
			}
		}
	}
}

func TestWidth(t *testing.T) {
	for columns, want := range map[string]int{"": pipeWidth, "wide": pipeWidth, "-5": pipeWidth, "0": pipeWidth, "7": minWidth, "96": 96, "999999999": maxWidth} {
		t.Setenv("COLUMNS", columns)
		if got := Width(&strings.Builder{}); got != want {
			t.Errorf("COLUMNS=%s: %d, want %d", columns, got, want)
		}
	}
}

// A sentence is one line, whatever names it quotes, and keeps its end, which says
// what to do.
func TestSentence(t *testing.T) {
	for _, c := range []struct {
		said, want string
	}{
		{"short", "short"},
		{errors.Join(errors.New("one"), errors.New("two")).Error(), "one; two"},
		{"\x1b[31mred\nblue is gone", "[31mred; blue is gone"},
		{strings.Repeat("x", 5000) + " is gone", strings.Repeat("x", 300) + " … " + strings.Repeat("x", 292) + " is gone"},
	} {
		if got := Sentence(c.said); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

package main

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

type inner struct {
	Text int `json:"text"`
}

type record struct {
	Name  string   `json:"name"`
	Low   *float64 `json:"low"`
	Pages []string `json:"pages"`
	How   inner    `json:"how"`
	Sure  bool     `json:"sure"`
}

func TestEmitCSV(t *testing.T) {
	minus := -7.5
	for _, c := range []struct {
		name    string
		records []record
		want    string
	}{
		{"none", nil, "name,low,pages,how.text,sure\n"},
		{"values", []record{{"a", &minus, []string{"x", "y"}, inner{3}, true}}, "name,low,pages,how.text,sure\na,-7.5,x; y,3,true\n"},
		{"open", []record{{Name: "b"}}, "name,low,pages,how.text,sure\nb,,,0,false\n"},
		// A spreadsheet would take these for formulas.
		{"formulas", []record{{Name: "=HYPERLINK(1)"}, {Name: "+1+2"}, {Name: "-a"}, {Name: "@x"}, {Name: "\tz"}},
			"name,low,pages,how.text,sure\n'=HYPERLINK(1),,,0,false\n'+1+2,,,0,false\n'-a,,,0,false\n'@x,,,0,false\n'\tz,,,0,false\n"},
	} {
		var b strings.Builder
		if err := emitCSV(&b, c.records); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c.want, b.String()); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

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
		if diff := cmp.Diff(c.want, fold(c.text, c.width)); diff != "" {
			t.Errorf("%q at %d (-want +got):\n%s", c.text, c.width, diff)
		}
	}
}

// What a PDF printed must not steer the terminal.
func TestClean(t *testing.T) {
	if got, want := clean("a\x1b[31mred\u009b0m\r\nb\x00 c"), "a [31mred 0m b c"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestGridFitsItsWidth(t *testing.T) {
	g := &grid{heads: []string{"day", "do", "dishes"}}
	g.add("2026-01-10", "wet and hold at 4 °C for ninety days", strings.Repeat("ABC ", 40))
	g.under(strings.Repeat("word ", 60))
	for _, width := range []int{60, 80, 200} {
		var b strings.Builder
		if err := g.print(&b, 2, width); err != nil {
			t.Fatal(err)
		}
		for l := range strings.Lines(b.String()) {
			if n := len([]rune(strings.TrimRight(l, "\n"))); n > width {
				t.Errorf("a line of %d columns in a width of %d: %q", n, width, l)
			}
		}
	}
}

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	corpus "hatchlore/corpus-sample"
)

// The papers of these tests are invented, as all of the sample is.
const source = `id: t01
lang: en
title: Eggs of *Fictocaris umbrosa*
counted: hatching
taxon: F = Fictocaris umbrosa
---
== Abstract

Eggs of *F. umbrosa* hatched
at 12 °C after 30 d in CO~2~.
@ F incubation-temperature favours 12 degC :: hatched at 12 °C
@ F stratification-length favours 30.. d 2nd :: after 30 d

=== Counts

:table 1. Hatching by cold.
| Days | n
| 30 | *61*
@ F stratification-length favours 30..30 d emergence :: 30 61

== References

Haldon, P. 1962. Eggs.
`

func read(t *testing.T, text string) (*Paper, error) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "haldon-1962.paper")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return Read(path)
}

func TestRead(t *testing.T) {
	p, err := read(t, source)
	if err != nil {
		t.Fatal(err)
	}
	number := func(v float64) *float64 { return &v }
	want := []Block{
		{Kind: Heading, Text: "Abstract", Line: 7, Lang: "en"},
		{Kind: Abstract, Text: "Eggs of *F. umbrosa* hatched at 12 °C after 30 d in CO~2~.", Line: 9, Lang: "en", Claims: []corpus.Claim{
			{Taxon: "Fictocaris umbrosa", Stage: "hatching", Factor: "incubation-temperature", Bearing: "favours", Low: number(12), High: number(12), Unit: "degC", Quote: "hatched at 12 °C"},
			{Taxon: "Fictocaris umbrosa", Factor: "stratification-length", Bearing: "favours", Low: number(30), Unit: "d", Secondhand: true, Quote: "after 30 d"},
		}},
		{Kind: Subheading, Text: "Counts", Line: 14, Lang: "en"},
		{Kind: Table, Text: "1. Hatching by cold.", Rows: [][]string{{"Days", "n"}, {"30", "*61*"}}, Line: 16, Lang: "en", Claims: []corpus.Claim{
			{Taxon: "Fictocaris umbrosa", Stage: "emergence", Factor: "stratification-length", Bearing: "favours", Low: number(30), High: number(30), Unit: "d", Quote: "30 61"},
		}},
		{Kind: Heading, Text: "References", Line: 21, Lang: "en"},
		{Kind: Reference, Text: "Haldon, P. 1962. Eggs.", Line: 23, Lang: "en"},
	}
	if diff := cmp.Diff(want, p.Blocks); diff != "" {
		t.Error(diff)
	}
	if got := p.Blocks[3].Plain(); got != "Table 1. Hatching by cold.\nDays n\n30 61" {
		t.Errorf("the table reads %q", got)
	}
}

// TestReadFaults: what is wrong in a source is told with its line, and above all a
// label that its paragraph does not bear out.
func TestReadFaults(t *testing.T) {
	for _, c := range []struct{ old, with, want string }{
		{"lang: en", "lang en", ":2: head field without a value"},
		{"F = Fictocaris umbrosa", "Fictocaris umbrosa", ":5: taxon wants SHORT = Name"},
		{":: hatched at 12 °C", ":: hatched at 13 °C", ":11: quote is not in the text above"},
		{"@ F incubation", "@ G incubation", `:11: taxon "G" is not in the head`},
		{"favours 12 degC ::", "favours 1.2.3 degC ::", `:11: value "1.2.3"`},
		{"favours 12 degC :: hatched at 12 °C", "favours", ":11: claim wants TAXON FACTOR BEARING VALUE :: quote"},
		{"| 30 | *61*", "| 30", ":18: row has 1 cells, the head 2"},
		{"=== Counts\n", "=== Counts\n| 30", ":15: this line belongs below a [table]"},
		{"Haldon, P. 1962. Eggs.", "Haldon, P. 1962. Eggs.\n@ F drying favours required :: Eggs", ":24: this line belongs below a [paragraph abstract table figure]"},
	} {
		if !strings.Contains(source, c.old) {
			t.Fatalf("%q is not in the source", c.old)
		}
		_, err := read(t, strings.Replace(source, c.old, c.with, 1))
		if err == nil || !strings.HasPrefix(err.Error(), "haldon-1962.paper"+c.want) {
			t.Errorf("%q: error %v, want %s", c.with, err, c.want)
		}
	}
}

// TestMarkup: the same marked-up words for both typesetters, and as printed.
func TestMarkup(t *testing.T) {
	const words = "CO~2~ & *F. umbrosa* at 5–10 °C_%"
	for name, got := range map[string]string{
		"CO<sub>2</sub> &amp; <em>F. umbrosa</em> at 5–10 °C_%":                markup(words),
		`CO\textsubscript{2} \& \emph{F. umbrosa} at 5--10 \textdegree{}C\_\%`: tex(words),
		"CO2 & F. umbrosa at 5–10 °C_%":                                        plain(words),
		`\"A\\B\" \3c i> 5`:                                                    cssString(`"A\B" <i> 5`),
	} {
		if got != name {
			t.Errorf("got %q, want %q", got, name)
		}
	}
}

// TestHyphenator: a break stands where an odd number is the greatest, three letters
// from either end (Liang's own example: hyphenation is hy-phen-ation by these patterns).
func TestHyphenator(t *testing.T) {
	h := hyphenator{}
	for _, p := range strings.Fields("hy3ph he2n hena4 hen5at 1na n2at 1tio 2io o2n") {
		h.add(p)
	}
	for in, want := range map[string]string{
		"hyphenation":                    "hyphen\u00adation", // hy-phen is too near the word's beginning
		"Hyphen":                         "Hyphen",
		"12 hyphenations, *hyphenation*": "12 hyphen\u00adations, *hyphen\u00adation*",
	} {
		if got := h.text(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// TestLineBreaks: which soft hyphens of a page its first print used.
func TestLineBreaks(t *testing.T) {
	words, hyphens := visible([]rune("<p class=x>The tempera\u00adture of hatch\u00ading</p>"))
	if words != "thetemperatureofhatching" || hyphens[22] != 10 {
		t.Errorf("letters %q, hyphens at %v", words, hyphens)
	}
	want := []lineBreak{{"thetempera", "tureof"}}
	if diff := cmp.Diff(want, lineBreaks("The tempera\u00ad\n-\nture of hatching"), cmp.AllowUnexported(lineBreak{})); diff != "" {
		t.Error(diff)
	}
}

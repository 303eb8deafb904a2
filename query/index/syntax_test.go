package index

import (
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

func w(texts ...string) Clause { return Clause{Any: items(texts...)} }

func items(texts ...string) []Item {
	var out []Item
	for _, t := range texts {
		out = append(out, Item{Text: t})
	}
	return out
}

var syntaxCases = []struct {
	in   string
	want Question
}{
	{"cold drying", Question{w("cold"), w("drying")}},
	{`"cold period"`, Question{{Any: []Item{{"cold period", true}}}}},
	{`"cold  period" x`, Question{{Any: []Item{{"cold period", true}}}, w("x")}},
	{`"never closed`, Question{{Any: []Item{{"never closed", true}}}}},
	{`a"b c"d`, Question{w("a"), {Any: []Item{{"b c", true}}}, w("d")}},
	{"pre-hatch", Question{w("pre-hatch")}},
	{"a -b", Question{w("a"), {Without: true, Any: items("b")}}},
	{`a -"dry ice"`, Question{w("a"), {Without: true, Any: []Item{{"dry ice", true}}}}},
	{"a -b|c", Question{w("a"), {Without: true, Any: items("b", "c")}}},
	{"a - b", Question{w("a"), w("b")}},
	{"a|b", Question{w("a", "b")}},
	{"a | b|c d", Question{w("a", "b", "c"), w("d")}},
	{"| a ||b|", Question{w("a", "b")}},
	{"a --b", Question{w("a"), {Without: true, Any: items("b")}}},
	{"15,5 °C", Question{w("15,5"), w("°C")}},
	{"µS/cm ; œuf", Question{w("µS/cm"), w("œuf")}},
	{"a|-b", Question{w("a", "b")}},
	{"", nil},
	{"-a", nil},
	{`"" | - ; "`, nil},
}

func TestParse(t *testing.T) {
	for _, tt := range syntaxCases {
		got, err := Parse(tt.in)
		if (err != nil) != (tt.want == nil) {
			t.Errorf("%q: error %v", tt.in, err)
		}
		if d := cmp.Diff(tt.want, got); d != "" {
			t.Errorf("%q (-want +got):\n%s", tt.in, d)
		}
	}
}

// noNames is a book of names with none in it.
func noNames(string) (meaning, error) { return meaning{}, nil }

// What is parsed, printed and parsed again is the same, and every item can be
// looked up.
func FuzzParse(f *testing.F) {
	for _, tt := range syntaxCases {
		f.Add(tt.in)
	}
	langs := newLanguages()
	f.Fuzz(func(t *testing.T, s string) {
		q, err := Parse(s)
		if err != nil {
			return
		}
		again, err := Parse(q.String())
		if err != nil {
			t.Fatalf("%q printed as %q: %v", s, q, err)
		}
		if d := cmp.Diff(q, again); d != "" {
			t.Fatalf("%q printed as %q (-first +second):\n%s", s, q, d)
		}
		needles, err := needlesOf(q, noNames)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range needles {
			for lang, a := range langs {
				seqs, _ := n.sequences(a)
				for _, seq := range seqs {
					if len(seq) == 0 || len(seq[0]) == 0 || len(seq[len(seq)-1]) == 0 {
						t.Fatalf("%q in %s: sequence %q starts or ends with nothing", s, lang, seq)
					}
				}
			}
		}
	})
}

// Words tile in order, on the bytes of the text, and a snippet never leaves it.
func FuzzSnippet(f *testing.F) {
	f.Add("The cysts of B. ficta hatched.\nAt 15,5 °C", "cyst 15.5")
	f.Add("\xff\x00Ä a\u0301e", "ae|Ä")
	langs := newLanguages()
	f.Fuzz(func(t *testing.T, text, words_ string) {
		at, position := 0, 0
		words(text, func(w word) {
			if w.start < at || w.end <= w.start || w.end > len(text) || w.position <= position {
				t.Fatalf("%q: word %+v after byte %d, position %d", text, w, at, position)
			}
			at, position = w.end, w.position
			for lang, a := range langs {
				for _, term := range a.terms(w) {
					if term == "" || w.text[0] < utf8.RuneSelf && term[0] != w.text[0] {
						t.Fatalf("%s: %q is looked up by %q, which starts with another letter", lang, w.text, term)
					}
				}
			}
		})
		q, err := Parse(words_)
		if err != nil {
			return
		}
		needles, err := needlesOf(q, noNames)
		if err != nil {
			t.Fatal(err)
		}
		s := snippetOf(text, nil, newFinder(needles).occurrences(text, langs["en"]))
		if s.Start < 0 || s.Start+len(s.Text) > len(text) || spaced(text[s.Start:s.Start+len(s.Text)]) != s.Text {
			t.Fatalf("%q: snippet %+v", text, s)
		}
		last := -1
		for _, m := range s.Marks {
			if m.Start <= last || m.End <= m.Start || m.End > len(s.Text) {
				t.Fatalf("%q: marks %v", text, s.Marks)
			}
			last = m.End
		}
	})
}

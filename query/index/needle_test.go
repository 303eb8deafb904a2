package index

import (
	"testing"
	"unicode/utf8"

	"hatchlore/query/index/question"
	"hatchlore/query/index/stem"
)

// noNames is a book of names with none in it.
func noNames(string) (meaning, error) { return meaning{}, nil }

// Every item of a question can be looked up.
func FuzzNeedles(f *testing.F) {
	for _, s := range []string{`cold "the dry period"|freeze -frozen`, "F. umbrosa pre-hatch", `"der" the|Ä`} {
		f.Add(s)
	}
	langs := stem.New()
	f.Fuzz(func(t *testing.T, s string) {
		q, err := question.Parse(s)
		if err != nil {
			return
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
	langs := stem.New()
	f.Fuzz(func(t *testing.T, text, words_ string) {
		at, position := 0, 0
		stem.Words(text, func(w stem.Word) {
			if w.Start < at || w.End <= w.Start || w.End > len(text) || w.Position <= position {
				t.Fatalf("%q: word %+v after byte %d, position %d", text, w, at, position)
			}
			at, position = w.End, w.Position
			for lang, a := range langs {
				for _, term := range a.Terms(w) {
					if term == "" || w.Text[0] < utf8.RuneSelf && term[0] != w.Text[0] {
						t.Fatalf("%s: %q is looked up by %q, which starts with another letter", lang, w.Text, term)
					}
				}
			}
		})
		q, err := question.Parse(words_)
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

package stem

import (
	"testing"
	"unicode/utf8"
)

// Words tile in order, on the bytes of the text, and are looked up by terms that
// start as they do.
func FuzzWords(f *testing.F) {
	f.Add("The cysts of B. ficta hatched.\nAt 15,5 °C")
	f.Add("\xff\x00Ä a\u0301e")
	langs := New()
	f.Fuzz(func(t *testing.T, text string) {
		at, position := 0, 0
		Words(text, func(w Word) {
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
	})
}

package ingest

import (
	"strings"
	"testing"

	"hatchlore/ingest/pdf"
)

func TestBond(t *testing.T) {
	v := vocabulary{}
	v.learn("The temperature of a cold-moist period in sandiegonensis; non-native eggs", false, false)
	for _, c := range []struct {
		line, next string
		want       bond
	}{
		{"the tempera-", "ture of", byMerger},
		{"a cold-", "moist period", bySticky},
		{"the hiber-", "nation of", byMerger},
		{"non-", "native eggs", bySticky},
		{"pre-", "and post-treatment", bySpace},
		{"Vor-", "und Nachbehandlung", bySpace},
		{"the San-", "Diego pools", bySticky},
		{"between 5-", "10 °C", bySticky},
		{"between 5–", "10 °C", bySticky},
		{"a dash -", "and more", bySpace},
		{"no hyphen", "here", bySpace},
		{"state-of-the-", "art method", bySticky},
	} {
		if got := v.bondOf(c.line, c.next); got != c.want {
			t.Errorf("%q + %q: %v, want %v", c.line, c.next, got, c.want)
		}
	}
}

// TestMendWords: the vocabulary closes up a word only where it prints it whole
// elsewhere and not the piece.
func TestMendWords(t *testing.T) {
	s := newSetter()
	s.lines(50, 100, 10, "Branchinecta sandiegonensis and sandiegonensis again, cold and moist,", "with the effects and the effects of the coldroom, coldroom twice")
	narrow := func(y float32, head, tail string) {
		x := s.at(50, y, 10, head)
		s.page.Chars = append(s.page.Chars, pdf.Char{Rune: ' ', Left: x, Right: x + 2, Size: 10, Top: y, Bottom: y, Origin: y})
		s.at(x+2, y, 10, tail)
	}
	narrow(160, "of sandiegon", "ensis only")
	narrow(190, "the eggs of the cold", "room, a room, cold and cold")
	s.at(50, 220, 10, "and the e\x02ects, but not of a\x03e here")
	want := []string{"of sandiegonensis only", "the eggs of the cold room, a room, cold and cold", "and the effects, but not of a\uFFFDe here"}
	p := assemble(t, s).Pages[0]
	for _, w := range want {
		if !strings.Contains(p.Text, w) {
			t.Errorf("%q is not in %q", w, p.Text)
		}
	}
	if got := marks(p); got != "inferred:ff" {
		t.Errorf("marks %q", got)
	}
}

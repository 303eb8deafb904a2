package layout

import (
	"strings"
	"testing"

	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf"
)

// TestMendWords: the vocabulary closes up a word only where it prints it whole
// elsewhere and not the piece.
func TestMendWords(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Lines(50, 100, 10, "Branchinecta sandiegonensis and sandiegonensis again, cold and moist,", "with the effects and the effects of the coldroom, coldroom twice")
	narrow := func(y float32, head, tail string) {
		x := s.At(50, y, 10, head)
		s.Page.Chars = append(s.Page.Chars, pdf.Char{Rune: ' ', Left: x, Right: x + 2, Size: 10, Top: y, Bottom: y, Origin: y})
		s.At(x+2, y, 10, tail)
	}
	narrow(160, "of sandiegon", "ensis only")
	narrow(190, "the eggs of the cold", "room, a room, cold and cold")
	s.At(50, 220, 10, "and the e\x02ects, but not of a\x03e here")
	want := []string{"of sandiegonensis only", "the eggs of the cold room, a room, cold and cold", "and the effects, but not of a\uFFFDe here"}
	p := assemble(t, s).Pages[0]
	for _, w := range want {
		if !strings.Contains(p.Text, w) {
			t.Errorf("%q is not in %q", w, p.Text)
		}
	}
	if got := ingesttest.Marks(p); got != "inferred:ff" {
		t.Errorf("marks %q", got)
	}
}

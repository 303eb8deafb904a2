package ingest

import (
	"strings"
	"testing"

	"hatchlore/ingest/pdf"
)

// shifted sets lines under the numbers of their glyphs, without a character map.
func (s *setter) shifted(x, y, size float32, lines ...string) {
	for _, l := range lines {
		for k, word := range strings.Fields(l) {
			if k > 0 {
				s.flag = 0
				x = s.at(x, y, size, " ")
			}
			s.flag = pdf.MapError
			x = s.at(x, y, size, strings.Map(func(r rune) rune { return r - glyphShift }, word))
		}
		s.flag, x, y = 0, 50, y+1.2*size
	}
}

// TestShiftedCodes: a page whose codes are glyph numbers reads as text when its
// words are the paper's own, with its figures marked; else it stays unread.
func TestShiftedCodes(t *testing.T) {
	prose := []string{
		"Resting eggs of the pool shrimp were taken from the dried sediment of three",
		"pools, kept cold for thirty days, and wetted with water of the same pools.",
		"Nauplii were seen after five days where the eggs had been kept cold, while",
		"those kept warm gave none (Haldon 1962), and dried eggs hatched at once.",
	}
	twice := strings.Split(strings.Join(prose, "\n")+"\n"+strings.Join(prose, "\n"), "\n")
	read := func(known bool) *Document {
		first, second := newSetter(), newSetter()
		lines := twice
		if !known {
			lines = []string{strings.Repeat("Quorum fluxit nebula. ", 4), strings.Repeat("Quorum fluxit nebula. ", 4)}
		}
		first.lines(50, 100, 10, lines...)
		second.shifted(50, 100, 10, twice...)
		return assemble(t, first, second)
	}
	page := read(true).Pages[1]
	if page.How != ByText || !strings.Contains(page.Text, strings.Join(prose, " ")) {
		t.Errorf("%s %s: %q", page.How, page.Why, page.Text)
	}
	at := strings.Index(page.Text, "1962")
	if at < 0 || !page.Marked(Inferred, at, at+4) {
		t.Errorf("the year is not marked as inferred: %v", page.Marks)
	}
	if page := read(false).Pages[1]; page.How != Unread || page.Why != WhyCoded {
		t.Errorf("words that the paper has nowhere else: %s %s: %q", page.How, page.Why, page.Text)
	}
}

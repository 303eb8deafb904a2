package layout

import (
	"strings"
	"testing"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf"
)

// glyphNumbers is what parts an ASCII character's code from its glyph's number in
// most OpenType fonts.
const glyphNumbers = 31

// shifted sets lines under the numbers of their glyphs, without a character map.
func shifted(s *ingesttest.Setter, x, y, size float32, lines ...string) {
	for _, l := range lines {
		for k, word := range strings.Fields(l) {
			if k > 0 {
				s.Flag = 0
				x = s.At(x, y, size, " ")
			}
			s.Flag = pdf.MapError
			x = s.At(x, y, size, strings.Map(func(r rune) rune { return r - glyphNumbers }, word))
		}
		s.Flag, x, y = 0, 50, y+1.2*size
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
	read := func(known bool) *ingest.Document {
		first, second := ingesttest.NewSetter(), ingesttest.NewSetter()
		lines := twice
		if !known {
			lines = []string{strings.Repeat("Quorum fluxit nebula. ", 4), strings.Repeat("Quorum fluxit nebula. ", 4)}
		}
		first.Lines(50, 100, 10, lines...)
		shifted(second, 50, 100, 10, twice...)
		return assemble(t, first, second)
	}
	page := read(true).Pages[1]
	if page.How != ingest.ByText || !strings.Contains(page.Text, strings.Join(prose, " ")) {
		t.Errorf("%s %s: %q", page.How, page.Why, page.Text)
	}
	at := strings.Index(page.Text, "1962")
	if at < 0 || !page.Marked(ingest.Inferred, at, at+4) {
		t.Errorf("the year is not marked as inferred: %v", page.Marks)
	}
	if page := read(false).Pages[1]; page.How != ingest.Unread || page.Why != ingest.WhyCoded {
		t.Errorf("words that the paper has nowhere else: %s %s: %q", page.How, page.Why, page.Text)
	}
}

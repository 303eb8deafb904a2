package rule

import (
	"strings"
	"testing"
	"time"

	"hatchlore/ingest"
)

// prose is a page's worth of plain statements about an invented shrimp.
const prose = `Eggs of Fictobranchus albus were sieved from dry mud and stored at 20 °C for 60 days. They were
incubated at 5, 10, 15 and 20 °C under 12L:12D in water of 150 µS/cm and pH 7.2. At 10 °C 45 ± 3 % hatched within 48 h, whereas at
20 °C none did. Adults live in ponds of 4 to 25 °C, reach 14 mm and mature after 18 days. Drying is not required, but a cold period
of 30 days at 4 °C raised the hatch to 61 % (Miller 1980). When rain fills the pool the eggs hatch. `

func pages(n int) *ingest.Document {
	doc := &ingest.Document{Source: "long.txt", Format: "txt", Title: "Hatching of Fictobranchus albus", Lang: "en"}
	text := strings.Repeat(prose, 5) // about 450 words, a page of a journal
	for i := range n {
		doc.Pages = append(doc.Pages, ingest.Page{Number: i + 1, How: ingest.ByText, Text: text,
			Blocks: []ingest.Block{{Kind: ingest.Paragraph, End: len(text)}}})
	}
	return doc
}

// BenchmarkThousandPages is held to 5 s on one core.
func BenchmarkThousandPages(b *testing.B) {
	set, err := Load()
	if err != nil {
		b.Fatal(err)
	}
	doc := pages(1000)
	for b.Loop() {
		set.Match(doc)
	}
}

// TestLongLine feeds a megabyte without a sentence end in one line: the time
// must grow with the length, not with its square.
func TestLongLine(t *testing.T) {
	if testing.Short() {
		t.Skip("a megabyte takes seconds")
	}
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		unit string
		size int
	}{
		{"eggs of Fictobranchus albus hatched at 10 °C not at 20 °C, ", 1 << 20},
		{"no eggs hatched unless dried and frozen whereas adults ", 1 << 20},
		{"and ", 1 << 17}, {"(", 1 << 17}, {"5, ", 1 << 17}, {"A. ", 1 << 17},
	} {
		part, whole := timeOf(set, c.unit, c.size/8), timeOf(set, c.unit, c.size)
		t.Logf("%d bytes of %q: %v, an eighth of it %v", c.size, c.unit, whole.Round(time.Millisecond), part.Round(time.Millisecond))
		if whole > 30*part && whole > 5*time.Second { // 8 where it grows with the length, 64 with its square
			t.Errorf("%d bytes of %q took %v, an eighth of it %v", c.size, c.unit, whole, part)
		}
	}
}

// timeOf is how long the set takes for a line of so many bytes.
func timeOf(set *Set, unit string, size int) time.Duration {
	text := strings.Repeat(unit, size/len(unit))
	doc := &ingest.Document{Source: "line.txt", Title: "Line", Lang: "en", Pages: []ingest.Page{{Number: 1, How: ingest.ByText, Text: text,
		Blocks: []ingest.Block{{Kind: ingest.Paragraph, End: len(text)}}}}}
	start := time.Now()
	set.Match(doc)
	return time.Since(start)
}

package layout

import (
	"testing"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf"
)

// TestSuspects has what programs that read pictures make of units and numbers:
// the text stays as read, and the number is marked.
func TestSuspects(t *testing.T) {
	for _, c := range []struct{ text, marks string }{
		{"held at 10 oC for", "suspect:10 oC "},
		{"held at 10 0C for", "suspect:10 0C "},
		{"held at 10\"C, and", "suspect:10\"C,"},
		{"held at 10 *C and", "suspect:10 *C "},
		{"held at 48'F.", "suspect:48'F."},
		{"held at l0 °C for", "suspect:l0 ° untrusted:l0 °"},
		{"held at lO °C for", "suspect:lO ° untrusted:lO °"},
		{"held at 1O—15 °C for", "suspect:1O—15 ° untrusted:1O—15 °"},
		{"held at I5-20 °C for", "suspect:I5-20 ° untrusted:I5-20 °"},
		{"for 3O days", "suspect:3O days untrusted:3O days"},
		{"water of 500 pS/cm and", "suspect:500 pS/cm"},
		{"eggs of 350 pm across", "suspect:350 pm "},
		{"frozen at — 18 °C for", "suspect:— 18 °"},
		{"held at 5—10 °C for", "suspect:5—10"},
		// Sound print.
		{"held at 10 °C for 30 days, then 5–10 °C", ""},
		{"water of 500 µS/cm at 3 p.m., in 2 l of it", ""},
		{"the eggs — few of them — hatched; I saw 10 or 12", ""},
		{"Vol. II, 30 pp.; 14 C and 5 of 9", ""},
	} {
		s := ingesttest.NewSetter()
		s.Page.Scanned = true
		s.At(50, 100, 10, c.text)
		p := assemble(t, s).Pages[0]
		if p.Text != c.text || p.How != ingest.ByOCR {
			t.Errorf("%q was changed to %q, read by %s", c.text, p.Text, p.How)
		}
		if got := ingesttest.Marks(p); got != c.marks {
			t.Errorf("%q has the marks %q, want %q", c.text, got, c.marks)
		}
		s.Page.Scanned = false
		if p := assemble(t, s).Pages[0]; p.Marked(ingest.Suspect, 0, len(p.Text)) {
			t.Errorf("%q is suspect in a file's own text", c.text)
		}
	}
}

// TestUnsureNumbers: a number of which the program that read it was unsure is
// marked; an unsure letter is not worth a mark.
func TestUnsureNumbers(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Page.Scanned = true
	x := s.At(50, 100, 10, "after 1")
	s.Flag = pdf.Unsure
	x = s.At(x, 100, 10, "2")
	s.Flag = 0
	x = s.At(x, 100, 10, ".5 days th")
	s.Flag = pdf.Unsure
	x = s.At(x, 100, 10, "e")
	s.Flag = 0
	s.At(x, 100, 10, " 45 hatched")
	if got := ingesttest.Marks(assemble(t, s).Pages[0]); got != "suspect:12.5" {
		t.Errorf("marks %q", got)
	}
}

// TestEmptyScan: a picture without text is read, and says so.
func TestEmptyScan(t *testing.T) {
	s := ingesttest.NewSetter()
	s.Page.Scanned, s.Page.Pictures = true, 1
	if p := assemble(t, s).Pages[0]; p.How != ingest.ByOCR || p.Why != ingest.WhyNoText {
		t.Errorf("read by %s: %s", p.How, p.Why)
	}
}

// TestCentredHeading: a heading in the middle of the page stands apart from the
// full lines below it.
func TestCentredHeading(t *testing.T) {
	s := ingesttest.NewSetter()
	full := "all the lines of a paragraph but the last are of this length, and"
	s.Lines(50, 100, 10, full, full)
	s.At(190, 124, 10, "THE EGGS")
	s.Lines(50, 136, 10, full, full, "the last is not.")
	got := ingesttest.Blocks(assemble(t, s).Pages[0])
	if len(got) != 3 {
		t.Errorf("blocks %q", got)
	}
}

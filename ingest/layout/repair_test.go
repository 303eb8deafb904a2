package layout

import (
	"testing"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf"
)

// TestRepair has a case for each defect that PDFs of papers were seen to have.
func TestRepair(t *testing.T) {
	raised := func(s *ingesttest.Setter, x float32, text string) float32 { return s.At(x, 100-4, 6, text) }
	for _, c := range []struct {
		name  string
		set   func(s *ingesttest.Setter)
		want  string
		marks string
	}{
		{"degree sign without a map", func(s *ingesttest.Setter) { s.At(50, 100, 10, "kept at 18 ± 2\x01C until") }, "kept at 18 ± 2 °C until", "inferred:°"},
		{"degree sign without a map, apart", func(s *ingesttest.Setter) { s.At(50, 100, 10, "at 18 \x01C.") }, "at 18 °C.", "inferred:°"},
		{"no degree sign before a word", func(s *ingesttest.Setter) { s.At(50, 100, 10, "the 18\x01Cysts") }, "the 18\uFFFDCysts", "untrusted:18\uFFFD"},
		{"decimal point without a map", func(s *ingesttest.Setter) { s.At(50, 100, 10, "at 28\x0189 °C") }, "at 28\uFFFD89 °C", "untrusted:28\uFFFD89"},
		{"first sign of a number without a map", func(s *ingesttest.Setter) { s.At(50, 100, 10, "at \x055 °C") }, "at \uFFFD5 °C", "untrusted:\uFFFD5"},
		{"sign between two numbers without a map", func(s *ingesttest.Setter) { s.At(50, 100, 10, "at 15 \x02 2 °C") }, "at 15 \uFFFD 2 °C", "untrusted:15 \uFFFD 2"},
		{"decimal middle dot", func(s *ingesttest.Setter) { s.At(50, 100, 10, "0·05 and 28·89") }, "0·05 and 28·89", ""},
		{"raised o as a degree", func(s *ingesttest.Setter) { s.At(raised(s, s.At(50, 100, 10, "at 18 "), "o"), 100, 10, "C for") }, "at 18 °C for", "inferred:°"},
		{"raised zero as a degree", func(s *ingesttest.Setter) { s.At(raised(s, s.At(50, 100, 10, "at 60"), "0"), 100, 10, "F.") }, "at 60 °F.", "inferred:°"},
		{"exponent", func(s *ingesttest.Setter) { s.At(raised(s, s.At(50, 100, 10, "2 × 10"), "3"), 100, 10, " eggs") }, "2 × 10³ eggs", ""},
		{"negative exponent of a unit", func(s *ingesttest.Setter) { s.At(raised(s, s.At(50, 100, 10, "90 µS cm"), "−1"), 100, 10, " in") }, "90 µS cm⁻¹ in", ""},
		{"note mark is not part of a number", func(s *ingesttest.Setter) { s.At(raised(s, s.At(50, 100, 10, "after 30"), "2"), 100, 10, " days") }, "after 30² days", ""},
		{"ligatures", func(s *ingesttest.Setter) { s.At(50, 100, 10, "ﬁrst ﬂood, oﬃce") }, "first flood, office", ""},
		{"one micro sign", func(s *ingesttest.Setter) { s.At(50, 100, 10, "5 μm and 5 µm") }, "5 µm and 5 µm", ""},
		{"soft hyphen inside a line", func(s *ingesttest.Setter) { s.At(50, 100, 10, "hatch\u00ADing") }, "hatching", ""},
		{"glued unit", func(s *ingesttest.Setter) { s.At(50, 100, 10, "a 16mm net, 5cm deep, 24h") }, "a 16 mm net, 5 cm deep, 24h", ""},
		{"glued unit is not a word's head", func(s *ingesttest.Setter) { s.At(50, 100, 10, "the 12month and 16S rRNA") }, "the 12 month and 16S rRNA", ""},
		{"symbol font", func(s *ingesttest.Setter) { s.At(50, 100, 10, "18 \uF0B1 2 \uF0B0C") }, "18 ± 2 °C", "inferred:± inferred:°"},
		{"degree look-alike", func(s *ingesttest.Setter) { s.At(50, 100, 10, "18 ºC and 20˚C, the 2nd nº") }, "18 °C and 20 °C, the 2nd nº", ""},
		{"equals sign under another name", func(s *ingesttest.Setter) { s.At(50, 100, 10, "P ¼ 0.05, 7 ¼ inches") }, "P = 0.05, 7 ¼ inches", "inferred:="},
		{"hyphens of other names", func(s *ingesttest.Setter) { s.At(50, 100, 10, "cold\u2010moist") }, "cold-moist", ""},
		{"private use", func(s *ingesttest.Setter) { s.At(50, 100, 10, "\uE123 eggs") }, "\uFFFD eggs", ""},
		{"accent drawn after its letter", func(s *ingesttest.Setter) {
			x := s.At(50, 100, 10, "Mueller")
			s.At(55, 100, 10, "¨")
			s.At(x, 100, 10, " 1962")
		}, "Müeller 1962", ""},
		{"digits are never merged", func(s *ingesttest.Setter) { s.At(s.At(50, 100, 10, "12")+20, 100, 10, "34") }, "12 34", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := ingesttest.NewSetter()
			c.set(s)
			p := assemble(t, s).Pages[0]
			if p.Text != c.want {
				t.Errorf("text %q, want %q", p.Text, c.want)
			}
			if got := ingesttest.Marks(p); got != c.marks {
				t.Errorf("marks %q, want %q", got, c.marks)
			}
		})
	}
}

// TestLineEndsInsideScripts: the engine ends lines before and after scripts;
// that is no space.
func TestLineEndsInsideScripts(t *testing.T) {
	s := ingesttest.NewSetter()
	x := s.At(50, 100, 10, "(mg l")
	breakLine := func() {
		for _, r := range "\r\n" {
			s.Page.Chars = append(s.Page.Chars, pdf.Char{Rune: r, Left: x, Right: x, Size: 10, Origin: 100, Flags: pdf.Generated})
		}
	}
	breakLine()
	x = s.At(x, 96, 6, "−1")
	breakLine()
	s.At(x, 100, 10, ") of oxygen")
	if got := assemble(t, s).Pages[0].Text; got != "(mg l⁻¹) of oxygen" {
		t.Errorf("got %q", got)
	}
}

// TestCodedFonts: a font without any map. Where its codes read as language they
// are taken, and its numbers marked; else the page is gibberish and says so.
func TestCodedFonts(t *testing.T) {
	prose := []string{
		"The eggs of the fairy shrimp were held in the dark and the water was", "kept at 12 C for 30 days, after which most of them hatched in a few",
		"hours of the \x0dood, as is to be expected of a species of the cold pools", "and it was not seen that any of them had died in the time of the test",
	}
	s := ingesttest.NewSetter()
	s.Flag = pdf.MapError
	s.Lines(50, 100, 10, prose...)
	p := assemble(t, s).Pages[0]
	if got := ingesttest.Marks(p); got != "inferred:12 inferred:30 inferred:fl" {
		t.Errorf("marks %q", got)
	}
	shift := make([]string, len(prose))
	for i, l := range prose {
		for _, r := range l {
			if r > ' ' {
				r++
			}
			shift[i] += string(r)
		}
	}
	s = ingesttest.NewSetter()
	s.Flag = pdf.MapError
	s.Lines(50, 100, 10, shift...)
	p = assemble(t, s).Pages[0]
	if p.How != ingest.Unread || p.Why != ingest.WhyCoded {
		t.Errorf("gibberish was read as %s: %s", p.How, p.Why)
	}
	if !p.Marked(ingest.Untrusted, 0, len(p.Text)) {
		t.Error("no number of the gibberish is untrusted")
	}
}

// TestUnmappedWithoutShape: a sign that the font does not map, and whose shape
// the engine lacks, is no space where its neighbours are mapped.
func TestUnmappedWithoutShape(t *testing.T) {
	s := ingesttest.NewSetter()
	s.At(50, 100, 10, "at 28\x0189 °C")
	for i := range s.Page.Chars {
		if c := &s.Page.Chars[i]; c.Flags&pdf.MapError != 0 {
			c.Top = c.Bottom
		}
	}
	p := assemble(t, s).Pages[0]
	if p.Text != "at 28\uFFFD89 °C" || ingesttest.Marks(p) != "untrusted:28\uFFFD89" {
		t.Errorf("text %q, marks %q", p.Text, ingesttest.Marks(p))
	}
}

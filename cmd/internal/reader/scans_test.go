package reader

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/rule"
	"hatchlore/ingest"
	"hatchlore/ingest/layout"
	"hatchlore/ingest/ocr"
	"hatchlore/ingest/pdf"
)

// TestScannedPaper takes the sample's scan (pictures only) from its bytes to
// rows of evidence: each marked as read from a picture, none as read twice.
func TestScannedPaper(t *testing.T) {
	if _, err := ocr.Find(t.Context()); err != nil {
		t.Skip("skipped: ", err)
	}
	reading, err := newReader(t, Options{}).Read(t.Context(), filepath.Join("..", "..", "..", "corpus-sample", "pdf", "haldersby-1962.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range reading.Document.Pages {
		if p.How != ingest.ByOCR {
			t.Errorf("page %d was read by %s: %s", p.Number, p.How, p.Why)
		}
	}
	rec := reading.Record
	if want := "On the hatching of the winter eggs of Lirrobranchus tessulatus in Marrow Fen"; !strings.EqualFold(rec.Title, want) {
		t.Errorf("title %q, want %q", rec.Title, want)
	}
	if len(rec.Authors) != 1 || rec.Authors[0].Family != "Haldersby" || rec.Year != 1962 {
		t.Errorf("authors %v, year %d", rec.Authors, rec.Year)
	}
	warm := func(c evidence.Claim) bool {
		return c.Factor == evidence.WarmTemperature && c.Bearing == evidence.Favours &&
			c.Low != nil && math.Abs(*c.Low-10) < 0.01 && strings.Contains(c.Quote, "hatched in the cellar")
	}
	i := slices.IndexFunc(reading.Claims, warm)
	if i < 0 {
		t.Fatalf("that eggs hatched at 50 °F is not among %d claims", len(reading.Claims))
	}
	if c := reading.Claims[i]; c.Page != 2 || c.Printed != "50 °F" || c.Unit != "degC" || c.Taxon != "Lirrobranchus tessulatus" {
		t.Errorf("claim %+v", c)
	}
	for _, c := range reading.Claims {
		if !c.OCR || c.TwiceRead {
			t.Errorf("%q: ocr %v, twice read %v", c.Quote, c.OCR, c.TwiceRead)
		}
	}
}

// TestScanErrors: what OCR makes of units and numbers comes out as a claim that
// says so, or as none; never as another number.
func TestScanErrors(t *testing.T) {
	rules, err := rule.Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		printed  string
		want     float64 // NaN: no claim
		inferred bool
	}{
		{"10 °C", 10, false},
		{"10 oC", 10, true},
		{"10 0C", 10, true},
		{"l0 °C", math.NaN(), false},
		{"1O °C", math.NaN(), false},
		{"2l °C", math.NaN(), false},
		{"1I—15 °C", math.NaN(), false},
		{"5—10 °C", 5, true},
		{"10\"C", math.NaN(), false},
	} {
		page := pdf.Page{Number: 1, Width: 595, Height: 842, Scanned: true}
		x := float32(50)
		for _, r := range "The resting eggs of Fictocaris umbrosa hatched at " + c.printed + " in the dark." {
			page.Chars = append(page.Chars, pdf.Char{Rune: r, Left: x, Right: x + 5, Top: 93, Bottom: 100, Origin: 100, Size: 10})
			x += 5
		}
		doc := layout.Assemble("scan.pdf", "hash", &pdf.File{Pages: []pdf.Page{page}})
		found := false
		for _, claim := range rules.Match(doc) {
			if claim.Low == nil {
				continue
			}
			found = true
			if *claim.Low != c.want || claim.Inferred != c.inferred || !claim.OCR {
				t.Errorf("%q: %v %s, inferred %v, ocr %v", c.printed, *claim.Low, claim.Unit, claim.Inferred, claim.OCR)
			}
		}
		if found == math.IsNaN(c.want) {
			t.Errorf("%q: a claim with a number: %v", c.printed, found)
		}
	}
}

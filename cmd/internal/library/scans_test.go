package library

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/ingest/ocr"
)

// TestScannedPaper takes the sample's scan (pictures only) from its bytes to
// rows of evidence: each marked as read from a picture, none as read twice.
func TestScannedPaper(t *testing.T) {
	if _, err := ocr.Find(t.Context()); err != nil {
		t.Skip("skipped: ", err)
	}
	reading, err := newReader(t).Read(t.Context(), filepath.Join("..", "..", "..", "corpus-sample", "pdf", "haldersby-1962.pdf"))
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

package library

import (
	"strings"
	"testing"

	"hatchlore/cmd/internal/reader"
	"hatchlore/ingest"
	"hatchlore/ingest/ocr"
	"hatchlore/ingest/pdf/pdftest"
)

// undrawable writes a PDF with a page of text and a page that is all picture
// and smaller than a dot at the resolution of OCR.
func undrawable(t *testing.T) string {
	t.Helper()
	text := "BT /F1 11 Tf 40 700 Td (Resting eggs of Fictocaris umbrosa hatched at 8 degrees.) Tj ET"
	return pdftest.Save(t, "undrawable.pdf", pdftest.Write([]pdftest.Object{
		{Dict: "/Type /Catalog /Pages 2 0 R"},
		{Dict: "/Type /Pages /Kids [3 0 R 5 0 R] /Count 2"},
		{Dict: "/Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources <</Font <</F1 <</Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding>>>>>>"},
		{Stream: []byte(text)},
		{Dict: "/Type /Page /Parent 2 0 R /MediaBox [0 0 0.2 0.2] /Contents 6 0 R /Resources <</XObject <</Im 7 0 R>>>>"},
		{Stream: []byte(".2 0 0 .2 0 0 cm /Im Do")},
		{Dict: "/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8", Stream: []byte("\x80")},
	}, ""))
}

// TestUnreadAgain: a page that cannot be read is tried once with OCR and once
// without, not at every ingest.
func TestUnreadAgain(t *testing.T) {
	path := undrawable(t)
	l, err := Open(t.TempDir(), true)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	for i, c := range []struct {
		engine *ocr.Engine // as if tesseract were installed, or not
		state  string
		why    string
	}{
		{nil, Added, ingest.WhyPicture},
		{nil, Known, ingest.WhyPicture},
		{&ocr.Engine{}, Updated, ingest.WhyUndrawn},
		{&ocr.Engine{}, Known, ingest.WhyUndrawn},
		{nil, Known, ingest.WhyUndrawn},
	} {
		r := newReader(t, reader.Options{OCR: func() (*ocr.Engine, error) { return c.engine, nil }})
		var out Outcome
		if err := l.AddAll(t.Context(), r, reader.Find([]string{path}), func(o Outcome) { out = o }); err != nil {
			t.Fatal(err)
		}
		if out.State != c.state || out.How.Unread != 1 {
			t.Errorf("ingest %d: %s, %d unread (%s); want %s", i+1, out.State, out.How.Unread, out.Why, c.state)
		}
		for page, err := range l.Store().Pages(t.Context(), out.Paper) {
			if err != nil {
				t.Fatal(err)
			}
			if page.Number == 2 && !strings.HasPrefix(page.Why, c.why) {
				t.Errorf("ingest %d: page 2 is %q, want %q", i+1, page.Why, c.why)
			}
		}
	}
}

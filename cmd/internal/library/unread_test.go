package library

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hatchlore/ingest"
	"hatchlore/ingest/ocr"
)

// undrawable writes a PDF with a page of text and a page that is all picture
// and smaller than a dot at the resolution of OCR.
func undrawable(t *testing.T) string {
	t.Helper()
	text := "BT /F1 11 Tf 40 700 Td (Resting eggs of Fictocaris umbrosa hatched at 8 degrees.) Tj ET"
	objects := []string{
		"<</Type /Catalog /Pages 2 0 R>>",
		"<</Type /Pages /Kids [3 0 R 5 0 R] /Count 2>>",
		"<</Type /Page /Parent 2 0 R /MediaBox [0 0 595 842] /Contents 4 0 R /Resources <</Font <</F1 <</Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding>>>>>>>>",
		fmt.Sprintf("<</Length %d>>\nstream\n%s\nendstream", len(text), text),
		"<</Type /Page /Parent 2 0 R /MediaBox [0 0 0.2 0.2] /Contents 6 0 R /Resources <</XObject <</Im 7 0 R>>>>>>",
		"<</Length 21>>\nstream\n.2 0 0 .2 0 0 cm /Im Do\nendstream",
		"<</Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8 /Length 1>>\nstream\n\x80\nendstream",
	}
	var b bytes.Buffer
	b.WriteString("%PDF-1.4\n")
	var offsets []int
	for i, o := range objects {
		offsets = append(offsets, b.Len())
		fmt.Fprintf(&b, "%d 0 obj\n%s\nendobj\n", i+1, o)
	}
	start := b.Len()
	fmt.Fprintf(&b, "xref\n0 %d\n0000000000 65535 f \n", len(objects)+1)
	for _, o := range offsets {
		fmt.Fprintf(&b, "%010d 00000 n \n", o)
	}
	fmt.Fprintf(&b, "trailer\n<</Size %d /Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n", len(objects)+1, start)
	path := filepath.Join(t.TempDir(), "undrawable.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
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
		r := newReader(t)
		r.ocr = func() (*ocr.Engine, error) { return c.engine, nil }
		var out Outcome
		if err := l.AddAll(t.Context(), r, Find([]string{path}), func(o Outcome) { out = o }); err != nil {
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

package layout

import (
	"testing"

	"hatchlore/ingest"
	"hatchlore/ingest/ingesttest"
	"hatchlore/ingest/pdf"
)

// assemble reads pages and checks what must hold for every document.
func assemble(t *testing.T, setters ...*ingesttest.Setter) *ingest.Document {
	t.Helper()
	f := &pdf.File{Engine: "pdfium"}
	for i, s := range setters {
		s.Page.Number = i + 1
		f.Pages = append(f.Pages, s.Page)
	}
	d := Assemble("paper.pdf", "hash", f)
	ingesttest.Sound(t, d)
	return d
}

package reader

import (
	"path/filepath"
	"testing"

	"hatchlore/ingest"
	"hatchlore/ingest/layout"
	"hatchlore/ingest/pdf"
)

// BenchmarkSteps times what this process does with the articles beside the
// checkout once their characters are there: one step at a time, all papers.
func BenchmarkSteps(b *testing.B) {
	r := newReader(b, Options{})
	if _, err := r.Rules(); err != nil {
		b.Fatal(err)
	}
	paths, err := filepath.Glob(filepath.Join("..", "..", "..", "..", "shared", "pdf", "articles", "*.pdf"))
	if err != nil || len(paths) == 0 {
		b.Skip("skipped: no folder shared/pdf/articles beside the checkout")
	}
	var files []*pdf.File
	for _, path := range paths {
		f, err := r.pdf.Read(b.Context(), path)
		if err != nil {
			b.Fatal(err)
		}
		files = append(files, f)
	}
	assemble := func() (docs []*ingest.Document) {
		for i, f := range files {
			docs = append(docs, layout.Assemble(paths[i], paths[i], f))
		}
		return docs
	}
	b.Run("assemble", func(b *testing.B) {
		for b.Loop() {
			assemble()
		}
	})
	b.Run("interpret", func(b *testing.B) {
		docs := assemble()
		for b.Loop() {
			for _, doc := range docs {
				reading := &Reading{Document: doc, Engine: "pdfium"}
				if err := r.interpret(doc.Hash, reading); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}

package library

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
	r, err := NewReader(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	defer r.Close()
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
	interpret := func() (readings []*Reading) {
		for _, doc := range assemble() {
			reading := &Reading{Document: doc, Engine: "pdfium"}
			if err := r.interpret(doc.Hash, reading); err != nil {
				b.Fatal(err)
			}
			readings = append(readings, reading)
		}
		return readings
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
	b.Run("keep", func(b *testing.B) {
		readings := interpret()
		for b.Loop() {
			l, err := Open(b.TempDir(), true)
			if err != nil {
				b.Fatal(err)
			}
			if _, err := l.openToWrite(b.Context(), false); err != nil {
				b.Fatal(err)
			}
			for _, reading := range readings {
				if err := l.add(b.Context(), r, &looked{reading: reading}); err != nil {
					b.Fatal(err)
				}
			}
			if err := l.Close(); err != nil {
				b.Fatal(err)
			}
		}
	})
}

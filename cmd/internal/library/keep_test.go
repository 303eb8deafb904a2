package library

import (
	"path/filepath"
	"testing"

	"hatchlore/cmd/internal/reader"
)

// BenchmarkKeep times the store and the index with the articles beside the
// checkout once they are read, all papers.
func BenchmarkKeep(b *testing.B) {
	paths, err := filepath.Glob(filepath.Join("..", "..", "..", "..", "shared", "pdf", "articles", "*.pdf"))
	if err != nil || len(paths) == 0 {
		b.Skip("skipped: no folder shared/pdf/articles beside the checkout")
	}
	r := newReader(b, reader.Options{OCR: reader.NoOCR})
	var readings []*reader.Reading
	for x := range r.ReadAll(b.Context(), reader.Find(paths)) {
		if x.Err != nil {
			b.Fatal(x.Err)
		}
		readings = append(readings, x.Reading)
	}
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
}

package pdfium

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"hatchlore/ingest/pdf"
	"hatchlore/ingest/pdf/pdftest"
)

func start(t testing.TB) *Engine {
	t.Helper()
	e, err := Start(CacheFolder())
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// articles returns the articles beside the checkout, none where there are none.
func articles(t testing.TB) [][]byte {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join("..", "..", "..", "..", "shared", "pdf", "articles", "*.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	var out [][]byte
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, data)
	}
	return out
}

// textPages calls f with each text page of a file.
func (d *Document) textPages(f func(text uint64, n int)) {
	for i := range d.Pages {
		page := d.call("FPDF_LoadPage", d.handle, uint64(i))
		text := d.call("FPDFText_LoadPage", page)
		f(text, int(d.call("FPDFText_CountChars", text)))
		d.call("FPDFText_ClosePage", text)
		d.call("FPDF_ClosePage", page)
	}
}

// TestCharList: the records of characters, read where they lie, are what the
// engine answers when it is asked about each.
func TestCharList(t *testing.T) {
	e := start(t)
	// A font without a character map for its codes, a hyphen at a line's end, a
	// generated space and line end, lettering up the page.
	made := pdftest.Write(pdftest.Pages("", "BT /F1 12 Tf 50 500 Td (Hatch-) Tj 0 -14 Td (ing \\001\\002 at 12 \\260C) Tj 40 0 Td (far) Tj ET "+
		"BT /F2 9 Tf 0 1 -1 0 30 100 Tm (axis) Tj ET"), "")
	for i, data := range append([][]byte{made}, articles(t)...) {
		d, err := e.Open(data)
		if err != nil {
			t.Fatal(err)
		}
		d.textPages(func(text uint64, n int) {
			list := d.charList(text, n)
			if n > 0 && list.raw == nil {
				t.Errorf("file %d: the records were not found", i)
			}
			for k := range n {
				if got, want := list.at(k), list.asked(uint64(k)); got != want {
					t.Fatalf("file %d, character %d: %+v, the engine says %+v", i, k, got, want)
				}
				got, _ := list.matrix(k)
				if want, _ := (charList{d: d, text: text}).matrix(k); got != want {
					t.Fatalf("file %d, character %d lies by %v, the engine says %v", i, k, got, want)
				}
			}
		})
		d.Close()
	}
	if e.Err() != nil {
		t.Fatal(e.Err())
	}
}

// TestCharListDoubted: records that are not what the engine answers are not
// used.
func TestCharListDoubted(t *testing.T) {
	e := start(t)
	d, err := e.Open(pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "Hatching")), ""))
	if err != nil {
		t.Fatal(err)
	}
	d.textPages(func(text uint64, n int) {
		list := d.charList(text, n)
		if list.raw == nil {
			t.Fatal("the records were not found")
		}
		if d.charList(text, n-1).raw != nil {
			t.Error("records of another number were used")
		}
		list.raw = slices.Clone(list.raw)
		for at, what := range map[int]string{kindAt: "kind", unicodeAt: "character", originAt: "place", boxAt: "box", matrixAt: "matrix", objectAt: "text object"} {
			list.raw[at] ^= 2
			if list.agrees(n) {
				t.Errorf("another %s was believed", what)
			}
			list.raw[at] ^= 2
		}
		if !list.agrees(n) {
			t.Error("the records as they are were doubted")
		}
	})
}

// BenchmarkPages reads the pages of the articles, the engine alone.
func BenchmarkPages(b *testing.B) {
	e := start(b)
	files := articles(b)
	if len(files) == 0 {
		b.Skip("skipped: no folder shared/pdf/articles beside the checkout")
	}
	var page pdf.Page
	for b.Loop() {
		for _, data := range files {
			d, err := e.Open(data)
			if err != nil {
				b.Fatal(err)
			}
			for n := range d.Pages {
				page = d.Page(n+1, page.Chars)
			}
			d.Close()
		}
	}
}

package process

import (
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"hatchlore/corpus-sample/surroundings"
	"hatchlore/ingest/pdf"
	"hatchlore/ingest/pdf/pdftest"
)

// TestOddFiles reads broken, hostile and rare files: each must end in pages or
// in a sentence. One that held the reader past its limit would hold the test.
func TestOddFiles(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(surroundings.Shared(t, "pdf", "odd"), "*.pdf"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no files: %v", err)
	}
	if testing.Short() {
		files = files[:20]
	}
	r := reader(t, Options{Processes: 2})
	outcomes := map[string]int{}
	var mu sync.Mutex
	queue := make(chan string)
	var readers sync.WaitGroup
	for range 2 {
		readers.Go(func() {
			for path := range queue {
				f, err := r.Read(t.Context(), path)
				what := "read"
				switch {
				case err != nil:
					what = strings.TrimPrefix(err.Error(), path+" ")
				case f.Engine != "pdfium":
					what = "read by the second reader"
				case chars(f) == 0:
					what = "no characters"
				}
				mu.Lock()
				outcomes[what]++
				mu.Unlock()
			}
		})
	}
	for _, f := range files {
		queue <- f
	}
	close(queue)
	readers.Wait()
	for what, n := range outcomes {
		t.Logf("%4d %s", n, what)
	}
}

func chars(f *pdf.File) int {
	n := 0
	for i := range f.Pages {
		n += len(f.Pages[i].Chars)
	}
	return n
}

// BenchmarkRead reads articles, one process; pages a second is what matters.
func BenchmarkRead(b *testing.B) {
	files, err := filepath.Glob(filepath.Join(surroundings.Shared(b, "pdf", "articles"), "*.pdf"))
	if err != nil || len(files) == 0 {
		b.Fatalf("no articles: %v", err)
	}
	r, err := Start(b.Context(), Options{Processes: 1})
	if err != nil {
		b.Fatal(err)
	}
	defer r.Close()
	if _, err := r.Read(b.Context(), files[0]); err != nil {
		b.Fatal(err)
	}
	pages := 0
	for b.Loop() {
		for _, path := range files {
			f, err := r.Read(b.Context(), path)
			if err != nil {
				b.Fatal(err)
			}
			pages += len(f.Pages)
		}
	}
	b.ReportMetric(float64(pages)/b.Elapsed().Seconds(), "pages/s")
}

// TestWitnessOfOddFiles: the second reader panics and hangs on many odd files.
// It then says nothing, and the next file is read. Only the odd files have a short
// limit: on a busy machine a whole one may need longer.
func TestWitnessOfOddFiles(t *testing.T) {
	folder := surroundings.Shared(t, "pdf", "odd")
	r := reader(t, Options{})
	r.opt.Time, r.opt.TimePerPage = time.Second, time.Millisecond
	// Before: hang, hang, panic while opening, panic on a page, refused.
	for _, name := range []string{"o011.pdf", "o022.pdf", "o106.pdf", "o085.pdf", "o132.pdf"} {
		if _, err := r.Witness(t.Context(), filepath.Join(folder, name), []int{1}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	r.opt.Time = time.Hour
	path := pdftest.Save(t, "whole.pdf", pdftest.Write(pdftest.Pages("", pdftest.Line(50, 500, "28.5")), ""))
	if got, err := r.Witness(t.Context(), path, []int{1}); err != nil || got[1] != "28.5\n" {
		t.Errorf("after them, a whole file: %v, %v", got, err)
	}
}

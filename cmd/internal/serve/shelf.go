package serve

import (
	"context"
	"io"
	"strings"
	"sync"
	"time"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/parcel"
	"hatchlore/cmd/internal/reader"
	"hatchlore/cmd/internal/taxon"
	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence/trial/bench"
	"hatchlore/ingest/pdf/process"
	"hatchlore/query/web/intake"
)

// shelf is the library as the page uses it.
type shelf struct {
	*library.Library
	pictures *process.Reader

	mu       sync.Mutex
	invented map[string]bool // by content hash: the sample's papers are hashed to find out
}

func newShelf(ctx context.Context, lib *library.Library) (*shelf, error) {
	// Two pictures at a time: the one looked at and the next one.
	r, err := process.Start(ctx, process.Options{Processes: 2})
	if err != nil {
		return nil, err
	}
	return &shelf{Library: lib, pictures: r, invented: map[string]bool{}}, nil
}

func (s *shelf) close() { s.pictures.Close() }

func (s *shelf) Picture(ctx context.Context, path string, page, dpi int) ([]byte, error) {
	return s.pictures.Picture(ctx, path, page, dpi)
}

func (s *shelf) Invented(hash string) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	known, ok := s.invented[hash]
	if !ok {
		known = corpus.Holds(hash)
		s.invented[hash] = known
	}
	return known
}

func (s *shelf) Kinds() []string { return reader.Extensions() }

// Add reads papers with processes of its own, which end with the last paper.
func (s *shelf) Add(ctx context.Context, paths []string, report func(intake.Outcome)) error {
	r, err := reader.New(ctx, reader.Options{})
	if err != nil {
		return err
	}
	defer r.Close()
	return s.AddAll(ctx, r, reader.Find(paths), func(o library.Outcome) {
		// The page names the file itself.
		why := strings.TrimSpace(strings.TrimPrefix(o.Why, o.Source))
		report(intake.Outcome{
			Path: o.Source, State: o.State, Taken: o.Paper != "", Paper: o.Paper, Pages: o.Pages, OCR: o.How.OCR, Unread: o.How.Unread, Claims: o.Claims, Why: why,
		})
	})
}

func (s *shelf) InventedNote(taxon string) string { return corpus.InventedNote(taxon) }

func (s *shelf) WriteSheet(ctx context.Context, w io.Writer, of, paper string) error {
	sheet, err := s.Answers().Sheet(ctx, of)
	if err != nil {
		return err
	}
	size, _ := bench.PaperNamed(paper)
	return taxon.WriteSheet(w, sheet, time.Now(), size)
}

func (s *shelf) WriteParcel(ctx context.Context, w io.Writer, private bool) error {
	p, err := parcel.Of(ctx, s.Library, private, "")
	if err != nil {
		return err
	}
	return parcel.Zip(w, p, "hatchlore-"+time.Now().Format(time.DateOnly))
}

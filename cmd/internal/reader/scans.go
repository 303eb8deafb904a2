package reader

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"hatchlore/ingest"
	"hatchlore/ingest/layout"
	"hatchlore/ingest/ocr"
	"hatchlore/ingest/pdf"
)

// scanDPI is the resolution at which pages are drawn for OCR; tesseract's
// manual asks for at least 300.
const scanDPI = 300

// scanLimit bounds the reading of one picture, which takes a second or two; a
// page of noise can take minutes.
const scanLimit = 90 * time.Second

// readPictures reads the pages of doc that have no text of their own from
// their pictures, several side by side, and puts the characters, or why there
// are none, into file for a second assembly.
//
// Where the paper's language is not known, the first page is read with all
// languages at hand, and tells it for the rest.
func (r *Reader) readPictures(ctx context.Context, engine *ocr.Engine, path string, file *pdf.File, doc *ingest.Document) error {
	var pages []*pdf.Page
	for i, p := range doc.Pages {
		if p.NeedsOCR() {
			pages = append(pages, &file.Pages[i])
		}
	}
	lang := doc.Lang
	if lang == "" && len(pages) > 1 {
		if err := r.readPicture(ctx, engine, path, pages[0], lang); err != nil {
			return err
		}
		lang = layout.Assemble(path, doc.Hash, file).Lang
		pages = pages[1:]
	}
	errs := make([]error, len(pages))
	var group sync.WaitGroup
	for i, p := range pages {
		group.Go(func() { errs[i] = r.readPicture(ctx, engine, path, p, lang) })
	}
	group.Wait()
	return errors.Join(ctx.Err(), errors.Join(errs...))
}

// readPicture reads one page from its picture. A page that cannot be drawn, or
// takes too long, stays unread and says so.
func (r *Reader) readPicture(ctx context.Context, engine *ocr.Engine, path string, page *pdf.Page, lang string) error {
	select {
	case r.scans <- struct{}{}:
		defer func() { <-r.scans }()
	case <-ctx.Done():
		return ctx.Err()
	}
	picture, err := r.pdf.Picture(ctx, path, page.Number, scanDPI)
	if err != nil {
		page.Unpictured = ingest.WhyUndrawn
		return ctx.Err()
	}
	limited, cancel := context.WithTimeout(ctx, scanLimit)
	defer cancel()
	lines, err := engine.Read(limited, picture, scanDPI, lang)
	switch {
	case limited.Err() != nil:
		page.Unpictured = ingest.WhySlow
		return ctx.Err()
	case err != nil:
		return fmt.Errorf("%s, page %d: %w", path, page.Number, err)
	}
	page.Chars, page.Scanned = ocr.Chars(lines, scanDPI), true
	return nil
}

package library

import (
	"context"
	"fmt"

	"hatchlore/ingest"
	"hatchlore/ingest/ocr"
	"hatchlore/ingest/pdf"
)

// scanDPI is the resolution at which pages are drawn for OCR; tesseract's
// manual asks for at least 300.
const scanDPI = 300

// readPictures reads the pages of doc that have no text of their own from
// their pictures, and puts the characters into file for a second assembly. It
// returns the pages read so.
func (r *Reader) readPictures(ctx context.Context, path string, file *pdf.File, doc *ingest.Document) ([]int, error) {
	var read []int
	for i, p := range doc.Pages {
		if p.How != ingest.Unread || file.Pages[i].Err != "" {
			continue
		}
		picture, err := r.pdf.Picture(ctx, path, p.Number, scanDPI)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			continue // the page stays unread, and is listed so
		}
		words, err := r.ocr.Read(ctx, picture, scanDPI, doc.Lang)
		if err != nil {
			return nil, fmt.Errorf("%s, page %d: %w", path, p.Number, err)
		}
		if len(words) > 0 {
			file.Pages[i].Chars = ocr.Chars(words, scanDPI)
			read = append(read, i)
		}
	}
	return read, nil
}

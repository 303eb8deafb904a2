// Package layout puts a paper's pages together as an [ingest.Document]: the text of
// its blocks with their spans and marks, and for each page how it was read.
//
// A page that cannot be read comes out as such, with the reason; layout refuses to
// pass gibberish or the text layer of a scan off as print.
package layout

import (
	"strings"

	"hatchlore/ingest"
	"hatchlore/ingest/block"
	"hatchlore/ingest/language"
	"hatchlore/ingest/line"
	"hatchlore/ingest/number"
	"hatchlore/ingest/pdf"
	"hatchlore/ingest/prose"
	"hatchlore/ingest/sheet"
)

// Assemble turns the characters of a PDF into a document. It never fails: a
// page without text comes out as such, with the reason in Why.
func Assemble(source, hash string, f *pdf.File) *ingest.Document {
	d := &ingest.Document{Source: source, Hash: hash, Format: "pdf", Note: f.Note}
	sheets, vocab := sheet.Read(f)
	chunks := block.Find(sheets)
	var texts []string
	for i, sh := range sheets {
		page := write(sh, chunks[i], vocab)
		d.Pages, texts = append(d.Pages, page), append(texts, page.Text)
	}
	d.Title = title(d, f.Title)
	d.Lang = language.Of(texts...)
	judge(d, sheets)
	for i := range d.Pages {
		if pg := &d.Pages[i]; pg.How == ingest.ByOCR {
			pg.Marks = append(pg.Marks, number.Suspects(pg.Text)...)
		}
	}
	return d
}

// write puts one page together: its blocks in reading order, with its running
// heads before and, behind them, its feet and what is set sideways (axis labels,
// stamps in the margin), both outside every block.
func write(sh *sheet.Sheet, chunks []*block.Chunk, vocab prose.Vocabulary) ingest.Page {
	w := pageWriter{vocab: vocab, page: ingest.Page{Number: sh.Page.Number, How: ingest.ByText}}
	outside := func(belongs func(s *line.Strip) bool) {
		for _, s := range sh.Strips {
			if belongs(s) {
				w.outside(s)
			}
		}
	}
	outside(func(s *line.Strip) bool { return s.Furniture && !s.Sideways && s.Base < sh.Height/2 })
	for _, c := range chunks {
		w.chunk(c)
	}
	outside(func(s *line.Strip) bool { return s.Furniture && !s.Sideways && s.Base >= sh.Height/2 })
	outside(func(s *line.Strip) bool { return s.Sideways })
	w.page.Text = w.b.String()
	return w.page
}

// title returns the title block's text, else what the file says of itself when
// the first page prints it too.
func title(d *ingest.Document, info string) string {
	if len(d.Pages) == 0 {
		return ""
	}
	first := d.Pages[0]
	for _, b := range first.Blocks {
		if b.Kind == ingest.Title {
			return first.Text[b.Start:b.End]
		}
	}
	info = strings.TrimSpace(info)
	if len(strings.Fields(info)) >= 3 && strings.Contains(squeeze(first.Text), squeeze(info)) {
		return info
	}
	return ""
}

// squeeze folds case and spacing for comparing.
func squeeze(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

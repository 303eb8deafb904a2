// Package sheet puts the lines of each page into reading order: it finds the gap
// between two columns, tells running heads and feet from text, and measures the
// page's type. It also reads what can be read of pages whose fonts lack a
// character map.
//
// The order of the file is kept wherever it runs down the columns; sheet refuses to
// sort a page that does, since the typesetter knew better.
package sheet

import (
	"strings"

	"hatchlore/ingest/line"
	"hatchlore/ingest/pdf"
	"hatchlore/ingest/prose"
)

// Read makes sheets of the pages of a file, with their lines repaired and in
// reading order, and the vocabulary of the paper.
func Read(f *pdf.File) ([]*Sheet, prose.Vocabulary) {
	var sheets []*Sheet
	for i := range f.Pages {
		sheets = append(sheets, newSheet(&f.Pages[i], f.Engine != "pdfium"))
	}
	markFurniture(sheets)
	for _, sh := range sheets {
		sh.markUnseen()
		sh.cutLineNumbers()
	}
	unshiftCodes(sheets)
	codes := judgeCodes(sheets)
	vocab := prose.Vocabulary{}
	for _, sh := range sheets {
		if sh.Codes = codes; sh.Unshifted {
			sh.Codes = line.CodesRead
		}
		sh.arrange()
		sh.teach(vocab)
	}
	for _, sh := range sheets {
		for _, s := range sh.Strips {
			if s.MendWords(vocab) {
				s.Repair(sh.Codes)
			}
		}
	}
	return sheets, vocab
}

func newSheet(pg *pdf.Page, advance bool) *Sheet {
	return &Sheet{Page: pg, width: float64(pg.Width), Height: float64(pg.Height), Strips: line.Of(pg, advance)}
}

// arrange puts the strips into reading order and measures the type.
func (p *Sheet) arrange() {
	p.findGutter()
	p.splitColumns()
	p.order()
	p.measure()
}

// teach repairs the strips and adds their words to the vocabulary.
func (p *Sheet) teach(vocab prose.Vocabulary) {
	for i, s := range p.Strips {
		s.Repair(p.Codes)
		after := i > 0 && strings.HasSuffix(p.Strips[i-1].Text, "-")
		vocab.Learn(s.Text, after, strings.HasSuffix(s.Text, "-"))
	}
}

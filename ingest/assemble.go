package ingest

import (
	"slices"
	"strings"
	"unicode/utf8"

	"hatchlore/ingest/pdf"
)

// Assemble turns the characters of a PDF into a document. It never fails: a
// page without text comes out as such, with the reason in Why.
func Assemble(source, hash string, f *pdf.File) *Document {
	d := &Document{Source: source, Hash: hash, Format: "pdf", Note: f.Note}
	p := newPaper(f)
	p.classify()
	for i, sh := range p.sheets {
		d.Pages = append(d.Pages, p.write(i, sh))
	}
	d.Title = p.title(d, f.Title)
	d.Lang = language(d)
	judge(d, p)
	for i := range d.Pages {
		if pg := &d.Pages[i]; pg.How == ByOCR {
			pg.Marks = append(pg.Marks, suspects(pg.Text)...)
		}
	}
	return d
}

func newPaper(f *pdf.File) *paper {
	p := &paper{vocab: vocabulary{}, sizes: map[int]int{}}
	for i := range f.Pages {
		pg := &f.Pages[i]
		p.sheets = append(p.sheets, &sheet{
			width: float64(pg.Width), height: float64(pg.Height), strips: strips(pg, f.Engine != "pdfium"),
			pictures: float64(pg.Pictures), err: pg.Err, scanned: pg.Scanned, unpictured: pg.Unpictured, number: pg.Number,
		})
	}
	markFurniture(p.sheets)
	p.unshift()
	codes := p.judgeCodes()
	for _, sh := range p.sheets {
		if sh.codes = codes; sh.unshifted {
			sh.codes = codesRead
		}
		sh.findGutter()
		sh.splitColumns()
		sh.order()
		sh.measure()
		for i, s := range sh.strips {
			s.repair(sh.codes)
			unglue(s)
			p.sizes[int(s.size*4+.5)] += len(s.glyphs)
			after := i > 0 && strings.HasSuffix(sh.strips[i-1].text, "-")
			p.vocab.learn(s.text, after, strings.HasSuffix(s.text, "-"))
		}
	}
	for _, sh := range p.sheets {
		for _, s := range sh.strips {
			if s.mendWords(p.vocab) {
				s.repair(sh.codes)
				unglue(s)
			}
		}
	}
	p.body = float64(mode(p.sizes)) / 4
	references := false
	for _, sh := range p.sheets {
		body := *sh
		body.strips, body.references = nil, references
		for _, s := range sh.strips {
			if !s.furn && !s.sideways {
				body.strips = append(body.strips, s)
			}
		}
		p.chunks = append(p.chunks, body.chunks())
		references = body.references
	}
	return p
}

// judgeCodes finds out whether the codes of characters without a map read as
// language.
func (p *paper) judgeCodes() codeKind {
	var b strings.Builder
	for _, sh := range p.sheets {
		for _, s := range sh.strips {
			if !s.coded() {
				continue
			}
			for i := range s.glyphs {
				if g := &s.glyphs[i]; g.coded || g.r == ' ' || g.r == '\t' {
					b.WriteRune(g.r)
				}
			}
			b.WriteByte(' ')
		}
	}
	// Words of one letter stand in some lists and in all gibberish.
	text := strings.Join(slices.DeleteFunc(lowerWords(b.String()), func(w string) bool { return utf8.RuneCountInString(w) < 2 }), " ")
	for lang := range stopWords {
		if stopShare(text, lang) >= minStopShare {
			return codesRead
		}
	}
	return codesMeanNothing
}

// coded reports whether the strip has characters without a map.
func (s *strip) coded() bool {
	for i := range s.glyphs {
		if s.glyphs[i].coded {
			return true
		}
	}
	return false
}

// write puts one page together: its blocks in reading order, with its running
// heads before and, behind them, its feet and what is set sideways (axis labels,
// stamps in the margin), both outside every block.
func (p *paper) write(i int, sh *sheet) Page {
	w := pageWriter{vocab: p.vocab, page: Page{Number: sh.number, How: ByText}}
	outside := func(belongs func(s *strip) bool) {
		for _, s := range sh.strips {
			if belongs(s) {
				w.outside(s)
			}
		}
	}
	outside(func(s *strip) bool { return s.furn && !s.sideways && s.base < sh.height/2 })
	for _, c := range p.chunks[i] {
		w.chunk(c)
	}
	outside(func(s *strip) bool { return s.furn && !s.sideways && s.base >= sh.height/2 })
	outside(func(s *strip) bool { return s.sideways })
	w.page.Text = w.b.String()
	return w.page
}

// title returns the title block's text, else what the file says of itself when
// the first page prints it too.
func (p *paper) title(d *Document, info string) string {
	if len(d.Pages) == 0 {
		return ""
	}
	first := d.Pages[0]
	for _, b := range first.Blocks {
		if b.Kind == Title {
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

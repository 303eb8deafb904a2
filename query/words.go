package query

import (
	"context"
	"errors"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/species/conflict"
	"hatchlore/species/fulltext"
	"hatchlore/species/table"
)

// reads is how a claim reads on its page, see [fulltext.Words].
type reads struct {
	words string
	table bool
	eggs  int // that a table's fraction is one of, see [fulltext.EggsEach]
}

// words returns how claims read on their pages, by id, paper by paper: also, where
// it is not nil, is told of each paper first. A claim whose page is not here is told
// by its quote.
func (e *Engine) words(ctx context.Context, claims []evidence.Claim, also func(*paperPages) error) (map[string]reads, error) {
	of := map[string][]evidence.Claim{}
	for _, c := range claims {
		of[c.Paper] = append(of[c.Paper], c)
	}
	out := make(map[string]reads, len(claims))
	for paper, claims := range of {
		p := e.pagesOf(paper)
		if also != nil {
			if err := also(p); err != nil {
				return nil, err
			}
		}
		for _, c := range claims {
			page, err := p.page(ctx, c.Page)
			if err != nil {
				return nil, err
			}
			out[c.ID] = readsOn(page, c)
		}
	}
	return out, nil
}

func readsOn(page *ingest.Page, c evidence.Claim) reads {
	if page == nil {
		return reads{words: c.Quote}
	}
	var t reads
	t.words, t.table = fulltext.Words(*page, c)
	if c.Factor == evidence.HatchingFraction {
		t.eggs = fulltext.EggsEach(*page, c)
	}
	return t
}

// paperPages reads the pages of one paper for one question, each once.
type paperPages struct {
	store *store.Store
	paper string
	pages map[int]*ingest.Page // nil for one that is not here
	whole bool
}

func (e *Engine) pagesOf(paper string) *paperPages {
	return &paperPages{store: e.store, paper: paper, pages: map[int]*ingest.Page{}}
}

// page returns a page, nil where it is not here.
func (p *paperPages) page(ctx context.Context, n int) (*ingest.Page, error) {
	page, known := p.pages[n]
	if known || p.whole {
		return page, nil
	}
	got, err := p.store.Page(ctx, p.paper, n)
	switch {
	case err == nil:
		page = &got
	case !errors.Is(err, store.ErrNoPage):
		return nil, err
	}
	p.pages[n] = page
	return page, nil
}

// all returns the pages that are here, in order.
func (p *paperPages) all(ctx context.Context) ([]ingest.Page, error) {
	var out []ingest.Page
	for page, err := range p.store.Pages(ctx, p.paper) {
		if err != nil {
			return nil, err
		}
		out = append(out, page)
		p.pages[page.Number] = &page
	}
	p.whole = true
	return out, nil
}

// eggs are the numbers of eggs behind fractions in tables, by claim.
func eggs(words map[string]reads) map[string]int {
	out := map[string]int{}
	for id, t := range words {
		if t.eggs > 0 {
			out[id] = t.eggs
		}
	}
	return out
}

// tell fills in how the claims of rows read.
func tell(rows []table.Row, words map[string]reads) {
	for i := range rows {
		t := words[rows[i].ID]
		rows[i].Words, rows[i].Tabled = t.words, t.table
	}
}

// tellSides fills in how the claims on the sides of conflicts read.
func tellSides(conflicts []conflict.Conflict, words map[string]reads) {
	fill := func(s conflict.Side) {
		for i := range s.Says {
			t := words[s.Says[i].Claim]
			s.Says[i].Words, s.Says[i].Table = t.words, t.table
		}
	}
	for _, c := range conflicts {
		for _, s := range c.Sides {
			fill(s)
		}
		for _, e := range c.Elsewhere {
			fill(e.Side)
		}
	}
}

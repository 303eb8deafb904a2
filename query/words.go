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

// words returns how claims read on their pages, by id. A claim whose page is
// not here is told by its quote.
func (e *Engine) words(ctx context.Context, claims []evidence.Claim) (map[string]reads, error) {
	type place struct {
		paper string
		page  int
	}
	pages := map[place]*ingest.Page{}
	out := make(map[string]reads, len(claims))
	for _, c := range claims {
		at := place{c.Paper, c.Page}
		page, known := pages[at]
		if !known {
			p, err := e.store.Page(ctx, c.Paper, c.Page)
			switch {
			case err == nil:
				page = &p
			case !errors.Is(err, store.ErrNoPage):
				return nil, err
			}
			pages[at] = page
		}
		t := reads{words: c.Quote}
		if page != nil {
			t.words, t.table = fulltext.Words(*page, c)
			if c.Factor == evidence.HatchingFraction {
				t.eggs = fulltext.EggsEach(*page, c)
			}
		}
		out[c.ID] = t
	}
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

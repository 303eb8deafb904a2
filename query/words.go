package query

import (
	"context"
	"errors"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/species"
)

// reads is how a claim reads on its page, see [species.Words].
type reads struct {
	words string
	table bool
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
			t.words, t.table = species.Words(*page, c)
		}
		out[c.ID] = t
	}
	return out, nil
}

// tell fills in how the claims of rows read.
func (e *Engine) tell(ctx context.Context, rows []species.Row) error {
	claims := make([]evidence.Claim, len(rows))
	for i, r := range rows {
		claims[i] = r.Claim
	}
	words, err := e.words(ctx, claims)
	for i := range rows {
		t := words[rows[i].ID]
		rows[i].Words, rows[i].Tabled = t.words, t.table
	}
	return err
}

// tellSides fills in how the claims on the sides of conflicts read.
func (e *Engine) tellSides(ctx context.Context, claims []evidence.Claim, conflicts ...[]species.Conflict) error {
	words, err := e.words(ctx, claims)
	if err != nil {
		return err
	}
	for _, cs := range conflicts {
		for _, c := range cs {
			for _, sides := range [][]species.Side{c.Sides, c.Elsewhere} {
				for _, s := range sides {
					for i := range s.Says {
						t := words[s.Says[i].Claim]
						s.Says[i].Words, s.Says[i].Table = t.words, t.table
					}
				}
			}
		}
	}
	return nil
}

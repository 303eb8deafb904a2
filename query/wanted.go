package query

import (
	"context"

	"hatchlore/evidence/store"
	"hatchlore/species/witness"
)

// Wanted returns the works that claims of the library cite as their source and
// that are not in it, those that most papers lean on first: what a keeper
// should look for next.
func (e *Engine) Wanted(ctx context.Context) ([]witness.Wanted, error) {
	lib, err := e.papers(ctx)
	if err != nil {
		return nil, err
	}
	claims, err := e.store.Claims(ctx, store.Filter{Secondhand: true})
	if err != nil {
		return nil, err
	}
	return witness.Missing(claims, lib), nil
}

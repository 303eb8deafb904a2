package library

import (
	"context"
	"fmt"
	"slices"

	"hatchlore/evidence/store"
)

// Remove takes papers out of the store and the index and returns those that it
// took. None goes where one of the keys is unknown, or is a trial's: what was
// counted is no paper to be put aside.
func (l *Library) Remove(ctx context.Context, keys []string) ([]store.Listing, error) {
	var wanted, gone []store.Listing
	for i, key := range keys {
		if slices.Contains(keys[:i], key) {
			continue
		}
		p, err := l.store.Listing(ctx, key)
		if err != nil {
			return nil, err
		}
		if p.Format == store.FormatTrial {
			return nil, fmt.Errorf("%s is the result of a trial and stays: reject its claims to leave them out", key)
		}
		wanted = append(wanted, p)
	}
	for _, p := range wanted {
		if err := l.store.Remove(ctx, p.Paper); err != nil {
			return gone, err
		}
		gone = append(gone, p)
	}
	if err := l.reindex(ctx); err != nil {
		return gone, err
	}
	return gone, l.closeIndex()
}

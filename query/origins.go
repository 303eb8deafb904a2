package query

import (
	"context"
	"sync"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/species"
)

// Origins remembers where the eggs of papers came from: to find out takes a
// paper's whole text, and a text changes only with a new reading. The zero
// value is ready; it may be shared by several Engines and goroutines.
type Origins struct {
	mu    sync.Mutex
	known map[string][]string // by the digest of the paper's reading
}

func (o *Origins) get(digest string) ([]string, bool) {
	o.mu.Lock()
	defer o.mu.Unlock()
	places, ok := o.known[digest]
	return places, ok
}

func (o *Origins) put(digest string, places []string) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if o.known == nil {
		o.known = map[string][]string{}
	}
	o.known[digest] = places
}

// Remembering makes the Engine use o, and returns it.
func (e *Engine) Remembering(o *Origins) *Engine {
	e.origins = o
	return e
}

// addOrigins notes where the eggs of each paper with claims came from. Only
// these papers are looked into.
func (e *Engine) addOrigins(ctx context.Context, lib species.Library, claims []evidence.Claim) error {
	digests, err := e.store.Digests(ctx)
	if err != nil {
		return err
	}
	done := map[string]bool{}
	for _, c := range claims {
		p, known := lib[c.Paper]
		if !known || done[c.Paper] {
			continue
		}
		done[c.Paper] = true
		places, known := e.origins.get(c.Paper + " " + digests[c.Paper])
		if !known {
			if places, err = e.findOrigins(ctx, c.Paper); err != nil {
				return err
			}
			e.origins.put(c.Paper+" "+digests[c.Paper], places)
		}
		p.Places = places
		lib[c.Paper] = p
	}
	return nil
}

func (e *Engine) findOrigins(ctx context.Context, paper string) ([]string, error) {
	var pages []ingest.Page
	for page, err := range e.store.Pages(ctx, paper) {
		if err != nil {
			return nil, err
		}
		pages = append(pages, page)
	}
	return species.OriginsOf(pages), nil
}

package query

import (
	"context"
	"sync"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/species/fulltext"
	"hatchlore/species/witness"
)

// Memory keeps what takes long to find and seldom changes: where the eggs of
// papers came from, which takes their whole text, and how much is disputed of
// each species. Either is known by all that it was computed from. The zero
// value is ready; it may be shared by several Engines and goroutines.
type Memory struct {
	mu      sync.Mutex
	origins map[string][]string
	counts  map[string]Known
}

// recall returns what kept holds under key, else what find finds.
func recall[T any](m *Memory, kept func() *map[string]T, key string, find func() (T, error)) (T, error) {
	m.mu.Lock()
	v, ok := (*kept())[key]
	m.mu.Unlock()
	if ok {
		return v, nil
	}
	v, err := find()
	if err != nil {
		return v, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if k := kept(); *k == nil || len(*k) >= mostKept {
		*k = map[string]T{}
	}
	(*kept())[key] = v
	return v, nil
}

// mostKept bounds what is kept of each kind; an entry has some hundred bytes.
const mostKept = 50_000

// Remembering makes the Engine use m, and returns it.
func (e *Engine) Remembering(m *Memory) *Engine {
	e.memory = m
	return e
}

// addOrigins notes where the eggs of each paper with claims came from. Only
// these papers are looked into.
func (e *Engine) addOrigins(ctx context.Context, lib witness.Library, claims []evidence.Claim) error {
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
		if p.Places, err = e.originsOf(ctx, c.Paper, digests[c.Paper]); err != nil {
			return err
		}
		lib[c.Paper] = p
	}
	return nil
}

// Prepare finds and remembers what later questions will want of every paper,
// one after the other. It takes some milliseconds a paper.
func (e *Engine) Prepare(ctx context.Context) error {
	digests, err := e.store.Digests(ctx)
	if err != nil {
		return err
	}
	for paper, digest := range digests {
		if _, err := e.originsOf(ctx, paper, digest); err != nil {
			return err
		}
	}
	return nil
}

func (e *Engine) originsOf(ctx context.Context, paper, digest string) ([]string, error) {
	return recall(e.memory, func() *map[string][]string { return &e.memory.origins }, paper+" "+digest,
		func() ([]string, error) { return e.findOrigins(ctx, paper) })
}

func (e *Engine) findOrigins(ctx context.Context, paper string) ([]string, error) {
	var pages []ingest.Page
	for page, err := range e.store.Pages(ctx, paper) {
		if err != nil {
			return nil, err
		}
		pages = append(pages, page)
	}
	return fulltext.OriginsOf(pages), nil
}

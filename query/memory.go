package query

import (
	"context"
	"sync"

	"hatchlore/species/fulltext"
	"hatchlore/species/taxonomy"
	"hatchlore/species/witness"
)

// Memory keeps what takes long to find and seldom changes: where the eggs of
// papers came from and how they were handled, which takes their whole text, how
// much is disputed of each species, and which names are alike. Each is known by all
// that it was computed from. The zero value is ready; it may be shared by several Engines and
// goroutines.
type Memory struct {
	mu     sync.Mutex
	eggs   map[string]eggsOf
	counts map[string]Known
	alike  map[string][]taxonomy.Pair
}

// eggsOf is what a paper's pages tell of its eggs beside its claims.
type eggsOf struct {
	origins []fulltext.Origin
	handled []fulltext.Handled
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

// addEggs notes where the eggs of a paper came from and how it handled them.
func (e *Engine) addEggs(ctx context.Context, lib witness.Library, p *paperPages, digest string) error {
	known, here := lib[p.paper]
	if !here {
		return nil
	}
	eggs, err := e.eggsOf(ctx, p, digest)
	known.Places, known.Handled = eggs.origins, eggs.handled
	lib[p.paper] = known
	return err
}

// Prepare finds and remembers what later questions will want of every paper,
// one after the other. It takes some milliseconds a paper.
func (e *Engine) Prepare(ctx context.Context) error {
	digests, err := e.store.Digests(ctx)
	if err != nil {
		return err
	}
	for paper, digest := range digests {
		if _, err := e.eggsOf(ctx, e.pagesOf(paper), digest); err != nil {
			return err
		}
	}
	return nil
}

func (e *Engine) eggsOf(ctx context.Context, p *paperPages, digest string) (eggsOf, error) {
	return recall(e.memory, func() *map[string]eggsOf { return &e.memory.eggs }, p.paper+" "+digest, func() (eggsOf, error) {
		pages, err := p.all(ctx)
		return eggsOf{fulltext.OriginsOf(pages), fulltext.HandledIn(pages)}, err
	})
}

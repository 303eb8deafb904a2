package site

import (
	"context"
	"sync"

	"hatchlore/query"
)

// Overview are the taxa that the library speaks of.
func (s *Site) Overview(ctx context.Context) ([]query.Known, error) {
	return Asked(ctx, s, "overview", s.Answers().Overview)
}

// Taxa are their names.
func (s *Site) Taxa(ctx context.Context) ([]string, error) {
	known, err := s.Overview(ctx)
	var out []string
	for _, k := range known {
		out = append(out, k.Taxon)
	}
	return out, err
}

// Disagreements are those on a taxon.
func (s *Site) Disagreements(ctx context.Context, taxon string) (query.Disputes, error) {
	return Asked(ctx, s, "disagreements "+taxon, func(ctx context.Context) (query.Disputes, error) {
		return s.Answers().Conflicts(ctx, taxon)
	})
}

// Asked answers a question about the library from what is kept, or computes
// the answer once, however many ask. Errors are not kept.
func Asked[T any](ctx context.Context, s *Site, question string, compute func(context.Context) (T, error)) (T, error) {
	var none T
	state, err := s.Store().State(ctx)
	if err != nil {
		return none, err
	}
	e := s.kept.at(state, question)
	// Others may wait for this answer: it is not ended with the first request.
	e.once.Do(func() { e.value, e.err = compute(context.WithoutCancel(ctx)) })
	if e.err != nil {
		s.kept.forget(question, e)
		return none, e.err
	}
	return e.value.(T), nil
}

// kept is what was computed of the library until the library changes, whoever
// changes it. The zero value is ready.
type kept struct {
	mu      sync.Mutex
	state   int64
	answers map[string]*answered
}

type answered struct {
	once  sync.Once
	value any
	err   error
}

// mostKept bounds the answers kept; a species' answers have tens of kilobytes.
const mostKept = 256

// at returns the answer to a question asked in the given state of the library.
func (k *kept) at(state int64, question string) *answered {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.answers == nil || k.state != state || len(k.answers) >= mostKept {
		k.answers, k.state = map[string]*answered{}, state
	}
	e := k.answers[question]
	if e == nil {
		e = &answered{}
		k.answers[question] = e
	}
	return e
}

// forget drops what holds no answer.
func (k *kept) forget(question string, e *answered) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.answers[question] == e {
		delete(k.answers, question)
	}
}

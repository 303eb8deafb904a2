package web

import (
	"context"
	"sync"
)

// memo keeps what was computed of the library until the library changes,
// whoever changes it. The zero value is ready.
type memo struct {
	mu    sync.Mutex
	state int64
	kept  map[string]*entry
}

type entry struct {
	once  sync.Once
	value any
	err   error
}

// mostKept bounds the answers kept; a species' answers have tens of kilobytes.
const mostKept = 256

// at returns the entry for a question asked in the given state of the library.
func (m *memo) at(state int64, question string) *entry {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.kept == nil || m.state != state || len(m.kept) >= mostKept {
		m.kept, m.state = map[string]*entry{}, state
	}
	e := m.kept[question]
	if e == nil {
		e = &entry{}
		m.kept[question] = e
	}
	return e
}

// forget drops an entry that holds no answer.
func (m *memo) forget(question string, e *entry) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.kept[question] == e {
		delete(m.kept, question)
	}
}

// asked answers a question about the library from what is kept, or computes
// the answer once, however many ask. Errors are not kept.
func asked[T any](ctx context.Context, s *Server, question string, compute func(context.Context) (T, error)) (T, error) {
	var none T
	state, err := s.shelf.Store().State(ctx)
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

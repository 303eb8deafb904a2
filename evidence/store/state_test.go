package store

import (
	"testing"

	"hatchlore/evidence"
)

// The state changes with every change, whoever makes it, and with nothing else.
func TestState(t *testing.T) {
	dir := t.TempDir()
	s, other := open(t, dir), open(t, dir)
	last := stateOf(t, s)
	same := func(what string) {
		t.Helper()
		if now := stateOf(t, s); now != last {
			t.Errorf("%s: the state changed", what)
		}
	}
	differs := func(what string) {
		t.Helper()
		now := stateOf(t, s)
		if now == last {
			t.Errorf("%s: the state is the same", what)
		}
		last = now
	}
	same("nothing")
	if err := s.SetAlias(t.Context(), Alias{Old: "Ficta", New: "Novaficta"}); err != nil {
		t.Fatal(err)
	}
	differs("a change by this store")
	if _, err := s.Claims(t.Context(), Filter{Factors: []evidence.Factor{evidence.Drying}}); err != nil {
		t.Fatal(err)
	}
	same("a question")
	if err := other.SetAlias(t.Context(), Alias{Old: "Fictb", New: "Novafictb"}); err != nil {
		t.Fatal(err)
	}
	differs("a change by another")
}

func stateOf(t *testing.T, s *Store) int64 {
	t.Helper()
	n, err := s.State(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return n
}

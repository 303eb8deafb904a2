package logistic

import (
	"testing"

	"hatchlore/evidence/stat/stattest"
)

func TestModelRefusals(t *testing.T) {
	good := crowder()
	for _, terms := range [][]string{{"x3"}, {"x1:x9"}, {"trend(x9)"}} {
		if _, err := NewModel(good, terms); err == nil {
			t.Errorf("terms %q pass", terms)
		}
	}
	same := cells([]string{"a"}, stattest.Counts(1, 2, 1, 2), []string{"x", "x"})
	if _, err := NewModel(same, []string{"a"}); err == nil {
		t.Error("a factor with one level passes")
	}
	if _, err := NewModel(cells([]string{"a"}, stattest.Counts(3, 2, 1, 2), []string{"x", "y"}), []string{"a"}); err == nil {
		t.Error("3 of 2 eggs pass")
	}
	m := model(t, cells([]string{"a", "b"}, stattest.Counts(1, 2, 1, 2), []string{"10", "9"}, []string{"x", "y"}), "a", "b")
	if len(m.Terms) != 2 || m.Terms[1] != "a=10" || len(m.Aliased) != 1 {
		t.Errorf("terms %q, aliased %q", m.Terms, m.Aliased)
	}
}

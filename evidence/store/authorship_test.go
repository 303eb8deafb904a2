package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A citation needs the same of a paper whether its line was asked for or not.
func TestAuthorships(t *testing.T) {
	s := open(t, t.TempDir())
	for n := range 3 {
		p, claims := sample(t, n)
		store(t, s, p, claims)
	}
	got := map[string]Record{}
	for r, err := range s.Authorships(ctx) {
		if err != nil {
			t.Fatal(err)
		}
		got[r.Key] = r
	}
	want := map[string]Record{}
	for l, err := range s.Papers(ctx) {
		if err != nil {
			t.Fatal(err)
		}
		want[l.Paper] = Record{Key: l.Paper, Authors: l.Authors, Year: l.Year}
	}
	if diff := cmp.Diff(want, got); diff != "" || len(got) != 3 {
		t.Errorf("%d papers: %s", len(got), diff)
	}
}

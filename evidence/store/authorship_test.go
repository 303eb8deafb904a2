package store

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// What a citation can say of a paper is what its record says.
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
	for key := range got {
		p, err := s.Head(ctx, key)
		if err != nil {
			t.Fatal(err)
		}
		want[key] = Record{Key: p.Key, Title: p.Title, Authors: p.Authors, Year: p.Year, Volume: p.Volume, Extent: p.Extent, DOI: p.DOI}
	}
	if diff := cmp.Diff(want, got); diff != "" || len(got) != 3 {
		t.Errorf("%d papers: %s", len(got), diff)
	}
}

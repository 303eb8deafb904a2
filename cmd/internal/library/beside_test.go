package library

import (
	"testing"

	"hatchlore/cmd/internal/reader"
	"hatchlore/query"
	"hatchlore/query/index"
)

func find(t *testing.T, l *Library, words string) int {
	t.Helper()
	answers, err := l.Searching(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	hits, err := answers.Search(t.Context(), query.Search{Words: words, Limit: 1000})
	if err != nil {
		t.Fatal(err)
	}
	return len(hits)
}

// While one process ingests, another searches what was there before, says what
// it does not see yet, and sees it once it may.
func TestSearchBesideIngest(t *testing.T) {
	first, dir := writePapers(t, 3), t.TempDir()
	if err := ingestInto(t.Context(), dir, first, func(Outcome) {}); err != nil {
		t.Fatal(err)
	}
	searcher := open(t, dir)
	if n := find(t, searcher, "moss"); n != 9 {
		t.Fatalf("%d pages before", n)
	}

	// The searcher has the index open to read; an ingest begins all the same.
	r, err := reader.New(t.Context(), reader.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	writer := open(t, dir)
	told := 0
	err = writer.AddAll(t.Context(), r, reader.Find([]string{writePapers(t, 6)}), func(o Outcome) {
		if told++; told != 5 { // the first three are known
			return
		}
		other, err := Open(dir, false)
		if err != nil {
			t.Fatal(err)
		}
		defer other.Close()
		if n := find(t, other, "moss"); n != 9 {
			t.Errorf("%d pages in the middle of an ingest", n)
		}
		if n := other.Behind(); n < 1 || other.Store().Holder() == nil {
			t.Errorf("behind by %d papers, and %v holds the library", n, other.Store().Holder())
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if n := find(t, searcher, "moss"); n != 18 || searcher.Behind() != 0 {
		t.Errorf("%d pages after, behind by %d", n, searcher.Behind())
	}
}

// What a killed process left out of the index is put in by the next search.
func TestSearchMendsAfterAKill(t *testing.T) {
	dir := t.TempDir()
	if err := ingestInto(t.Context(), dir, writePapers(t, 2), func(Outcome) {}); err != nil {
		t.Fatal(err)
	}
	l := open(t, dir)
	ix, err := index.Open(l.indexPath())
	if err != nil {
		t.Fatal(err)
	}
	keys, err := ix.Keys()
	if err != nil || len(keys) != 2 {
		t.Fatalf("%v %v", keys, err)
	}
	if err := ix.Remove(t.Context(), keys[0]); err != nil {
		t.Fatal(err)
	}
	if err := ix.Close(); err != nil {
		t.Fatal(err)
	}
	if n := find(t, l, "moss"); n != 6 || l.Behind() != 0 {
		t.Errorf("%d pages, behind by %d", n, l.Behind())
	}
	// Searching must not keep others from writing.
	other, err := index.Open(l.indexPath())
	if err != nil {
		t.Fatalf("a searcher is in the way of a writer: %v", err)
	}
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
}

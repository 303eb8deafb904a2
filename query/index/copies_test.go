package index

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// Readers see the index as it was when a copy was made for them, whatever the
// writer does meanwhile, and learn of a newer state.
func TestReadersBesideAWriter(t *testing.T) {
	dir := made(t)
	before, err := OpenToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer before.Close()
	writer, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	more := Paper{Key: "more", Stamp: "1", Lang: "en", Pages: []Page{results(1, "Eggs that were frozen.")}}
	if err := writer.Put(ctx, more); err != nil {
		t.Fatal(err)
	}
	writer.published = time.Time{} // as after a long time
	if err := writer.Flush(ctx); err != nil {
		t.Fatal(err)
	}
	during, err := OpenToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer during.Close()
	if !before.Stale() || during.Stale() {
		t.Errorf("the older copy is stale: %v; the newer: %v", before.Stale(), during.Stale())
	}
	if err := writer.Remove(ctx, "en"); err != nil {
		t.Fatal(err)
	}
	if err := writer.Close(); err != nil {
		t.Fatal(err)
	}
	after, err := OpenToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer after.Close()
	for _, tt := range []struct {
		name string
		ix   *Index
		want []string
	}{
		{"before", before, []string{"en#2"}}, {"during", during, []string{"en#2", "more#1"}}, {"after", after, []string{"more#1"}},
	} {
		got := ask(t, tt.ix, Query{Words: "frozen"})
		if slices.Sort(got); !slices.Equal(got, tt.want) {
			t.Errorf("%s: found %v, want %v", tt.name, got, tt.want)
		}
	}
	if n := copiesIn(dir); len(n) != 1 {
		t.Errorf("copies %v, want the newest alone", n)
	}
}

// A copy is made seldom, so that it does not slow the writer.
func TestCopiesAreSeldom(t *testing.T) {
	dir := made(t)
	writer, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer writer.Close()
	writer.published = time.Now()
	for _, wait := range []struct {
		since, took time.Duration
		due         bool
	}{
		{time.Second, time.Millisecond, false}, {time.Minute, time.Millisecond, true}, {time.Minute, 10 * time.Second, false}, {time.Hour, 10 * time.Second, true},
	} {
		writer.published, writer.copying = time.Now().Add(-wait.since), wait.took
		if writer.due() != wait.due {
			t.Errorf("%v after a copy that took %v another is due: %v", wait.since, wait.took, !wait.due)
		}
	}
	writer.published = time.Now()
}

// Where there are no copies, or none that opens, readers open the index.
func TestReadersWithoutCopies(t *testing.T) {
	for name, damage := range map[string]func(copies string) error{
		"none":          os.RemoveAll,
		"cut short":     func(copies string) error { return os.Truncate(filepath.Join(copies, "1", "store", "root.bolt"), 5000) },
		"half a folder": func(copies string) error { return os.Remove(filepath.Join(copies, "1", "index_meta.json")) },
		"odd folder":    func(copies string) error { return os.Mkdir(filepath.Join(copies, "making"), 0o777) },
	} {
		dir := made(t)
		if err := os.Rename(copyDir(dir, copiesIn(dir)[0]), copyDir(dir, 1)); err != nil {
			t.Fatal(err)
		}
		if err := damage(filepath.Join(dir, copiesName)); err != nil {
			t.Fatal(err)
		}
		ix, err := OpenToRead(dir)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := ask(t, ix, Query{Words: "frozen"}); !slices.Equal(got, []string{"en#2"}) {
			t.Errorf("%s: found %v", name, got)
		}
		ix.Close()
		// The next writer makes one.
		if ix, err = Open(dir); err != nil {
			t.Fatal(err)
		}
		ix.Close()
		if n := copiesIn(dir); len(n) != 1 {
			t.Errorf("%s: copies %v after a writer", name, n)
		}
	}
}

// A copy shares the files of the index: it takes no room of its own.
func TestCopiesAreLinks(t *testing.T) {
	dir := made(t)
	files, err := filepath.Glob(filepath.Join(dir, "store", "*.zap"))
	if err != nil || len(files) == 0 {
		t.Fatal("no segments")
	}
	for _, f := range files {
		own, err := os.Stat(f)
		if err != nil {
			t.Fatal(err)
		}
		copied, err := os.Stat(filepath.Join(copyDir(dir, copiesIn(dir)[0]), "store", filepath.Base(f)))
		if err != nil || !os.SameFile(own, copied) {
			t.Errorf("%s is not shared: %v", filepath.Base(f), err)
		}
	}
}

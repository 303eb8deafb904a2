package reader

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestFind(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"b.txt", "a.PDF", "table.xls", "works.bib", ".hidden.pdf", "sub/c.html", ".git/d.txt"} {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var got []string
	for _, f := range Find([]string{filepath.Join(dir, "b.txt"), dir, filepath.Join(dir, "gone.pdf")}) {
		rel, err := filepath.Rel(dir, f.Path)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, strings.TrimSpace(filepath.ToSlash(rel)+" "+string(f.Kind)))
	}
	want := []string{"b.txt paper", "a.PDF paper", "sub/c.html paper", "table.xls other", "works.bib references", "gone.pdf out of reach"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
}

package store

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hatchlore/evidence/store/disk"
)

const invented = "Eggs of an invented shrimp hatched at 8 °C."

// besideItsPile makes a library beside a folder of one paper and puts the paper in
// by a relative path, as a keeper does who stands above both. It returns the
// folder that holds all.
func besideItsPile(t *testing.T) string {
	t.Helper()
	root := t.TempDir()
	t.Chdir(root)
	if err := os.Mkdir("pile", 0o777); err != nil {
		t.Fatal(err)
	}
	write(t, "pile/eggs.txt", invented)
	s, err := Open("library")
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	p := paper(1, "Cysts of an invented shrimp.")
	sum := sha256.Sum256([]byte(invented))
	p.Hash, p.Source = hex.EncodeToString(sum[:]), "pile/eggs.txt"
	if _, err := s.Put(ctx, p, nil); err != nil {
		t.Fatal(err)
	}
	return root
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

func move(t *testing.T, from, to string) {
	t.Helper()
	if err := os.Rename(from, to); err != nil {
		t.Fatal(err)
	}
}

// The file of a paper is found from any working folder, after a move of the
// library alone or with its papers, and by a library that noted no places.
func TestFile(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(t *testing.T, root string)
		where  string // of the library, "" for where it was
		at     string // of the file
		err    error
	}{
		"unchanged":          {change: func(*testing.T, string) {}, at: "pile/eggs.txt"},
		"library moved away": {change: func(t *testing.T, root string) { move(t, root+"/library", root+"/elsewhere") }, where: "elsewhere", at: "pile/eggs.txt"},
		"both moved": {change: func(t *testing.T, root string) {
			if err := os.Mkdir(root+"/stick", 0o777); err != nil {
				t.Fatal(err)
			}
			move(t, root+"/library", root+"/stick/library")
			move(t, root+"/pile", root+"/stick/pile")
		}, where: "stick/library", at: "stick/pile/eggs.txt"},
		"no places noted": {change: func(t *testing.T, root string) { forgetPlaces(t, root+"/library") }, at: "pile/eggs.txt"},
		"put into the library's own folder": {change: func(t *testing.T, root string) {
			if err := os.Mkdir(root+"/library/papers", 0o777); err != nil {
				t.Fatal(err)
			}
			move(t, root+"/pile/eggs.txt", root+"/library/papers/eggs.txt")
		}, at: "library/papers/eggs.txt"},
		"changed": {change: func(t *testing.T, root string) { write(t, root+"/pile/eggs.txt", "another") }, err: ErrChanged},
		"gone": {change: func(t *testing.T, root string) {
			if err := os.Remove(root + "/pile/eggs.txt"); err != nil {
				t.Fatal(err)
			}
		}, err: ErrMoved},
		"a folder in its place": {change: func(t *testing.T, root string) {
			move(t, root+"/pile/eggs.txt", root+"/pile/kept.txt")
			if err := os.Mkdir(root+"/pile/eggs.txt", 0o777); err != nil {
				t.Fatal(err)
			}
		}, err: ErrMoved},
	} {
		t.Run(name, func(t *testing.T) {
			root := besideItsPile(t)
			tt.change(t, root)
			t.Chdir(t.TempDir())
			if tt.where == "" {
				tt.where = "library"
			}
			s := open(t, filepath.Join(root, tt.where))
			head, err := s.Listing(ctx, "ficta1901")
			if err != nil {
				t.Fatal(err)
			}
			got, err := s.File(ctx, head)
			if !errors.Is(err, tt.err) {
				t.Fatalf("%v, want %v", err, tt.err)
			}
			if tt.err == nil && got != filepath.Join(root, tt.at) {
				t.Errorf("found at %s", got)
			}
			if err != nil && !strings.Contains(err.Error(), filepath.Join(root, "pile/eggs.txt")) {
				t.Errorf("%q does not say where it was", err)
			}
		})
	}
}

// A paper that is ingested again from elsewhere is found there, unless that is
// but a copy.
func TestFoundAt(t *testing.T) {
	root := besideItsPile(t)
	s := open(t, "library")
	head, err := s.Listing(ctx, "ficta1901")
	if err != nil {
		t.Fatal(err)
	}
	found := func(ingested, at string) {
		t.Helper()
		if err := s.FoundAt(ctx, head.Hash, ingested); err != nil {
			t.Fatal(err)
		}
		if got, err := s.File(ctx, head); got != filepath.Join(root, at) {
			t.Errorf("found at %q, %v", got, err)
		}
	}
	write(t, "copy.txt", invented)
	found("copy.txt", "pile/eggs.txt")
	move(t, "pile/eggs.txt", "eggs.txt")
	found("eggs.txt", "eggs.txt")
	found("eggs.txt", "eggs.txt")
}

// forgetPlaces makes a library such as programs made before they noted places.
func forgetPlaces(t *testing.T, dir string) {
	t.Helper()
	f, err := disk.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	err = f.Change(t.Context(), "forget", func(tx *sql.Tx) error {
		_, err := tx.Exec(`DELETE FROM places`)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

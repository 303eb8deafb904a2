package store

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"hatchlore/corpus-sample/surroundings"
	"hatchlore/evidence"
)

func TestFullDisk(t *testing.T) {
	dir := surroundings.SmallDisk(t, "2m")
	s := open(t, dir)
	fullDisk(t, s)
	s.Close()
	s = open(t, dir)
	if c, err := s.Counts(ctx); c.Papers == 0 || err != nil {
		t.Errorf("opened again: %+v %v", c, err)
	}
}

func TestOpenOnFullDisk(t *testing.T) {
	dir := surroundings.SmallDisk(t, "64k")
	if err := os.WriteFile(filepath.Join(dir, "ballast"), make([]byte, 56<<10), 0o666); err != nil {
		t.Fatal(err)
	}
	_, err := Open(filepath.Join(dir, "library"))
	if !errors.Is(err, ErrFull) {
		t.Errorf("error %v, want ErrFull", err)
	}
}

func TestReadOnlyFolder(t *testing.T) {
	dir := surroundings.SmallDisk(t, "4m")
	lib := filepath.Join(dir, "library")
	s := open(t, lib)
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	s.Close()
	if err := syscall.Mount("", dir, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skipf("remounting for reading only is not possible here: %v", err)
	}
	s, err := Open(lib)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if _, err := s.Paper(ctx, p.Key); err != nil {
		t.Errorf("reading: %v", err)
	}
	if cs, err := s.Claims(ctx, Filter{}); len(cs) != 3 || err != nil {
		t.Errorf("reading claims: %d %v", len(cs), err)
	}
	p.Rules = "2"
	if _, err := s.Put(ctx, p, nil); !errors.Is(err, ErrReadOnly) {
		t.Errorf("writing: %v, want ErrReadOnly", err)
	}
	if _, err := s.Decide(ctx, claims[0].ID, Decision{Verdict: evidence.Accepted}); !errors.Is(err, ErrReadOnly) {
		t.Errorf("deciding: %v, want ErrReadOnly", err)
	}
	if _, err := Open(filepath.Join(dir, "nothing")); !errors.Is(err, ErrReadOnly) {
		t.Errorf("making a library: %v, want ErrReadOnly", err)
	}
}

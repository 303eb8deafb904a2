package index

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"hatchlore/corpus-sample/surroundings"
)

func TestFullDisk(t *testing.T) {
	disk := surroundings.SmallDisk(t, "1500k")
	dir, ballast := filepath.Join(disk, DirName), filepath.Join(disk, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 500<<10), 0o666); err != nil {
		t.Fatal(err)
	}
	ix, err := Create(dir)
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan error)
	go func() {
		c := newCorpus(3)
		for n := range 200 {
			err := ix.Put(ctx, c.paper(n))
			if err == nil {
				err = ix.Flush(ctx)
			}
			if err != nil {
				done <- err
				return
			}
		}
		done <- nil
	}()
	select {
	case err := <-done:
		if !errors.Is(err, ErrFull) {
			t.Errorf("error %v, want ErrFull", err)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("writing to a full disk never ends")
	}
	ix.Close()

	// With space again it goes on, or asks to be made anew.
	if err := os.Remove(ballast); err != nil {
		t.Fatal(err)
	}
	if ix, err = Open(dir); NeedsRebuild(err) {
		ix, err = Rebuild(ctx, dir, seq())
	}
	if err != nil {
		t.Fatal(err)
	}
	defer ix.Close()
	if err := ix.Put(ctx, invented()...); err != nil {
		t.Fatal(err)
	}
	if err := ix.Flush(ctx); err != nil {
		t.Fatal(err)
	}
	if got := ask(t, ix, Query{Words: "frozen"}); !slices.Contains(got, "en#2") {
		t.Errorf("found %v", got)
	}
}

func TestReadOnlyDisk(t *testing.T) {
	disk := surroundings.SmallDisk(t, "8m")
	dir := filepath.Join(disk, DirName)
	ix, err := Rebuild(ctx, dir, seq(invented()...))
	if err != nil {
		t.Fatal(err)
	}
	if err := ix.Close(); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mount("", disk, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skipf("remounting for reading only is not possible here: %v", err)
	}
	if ix, err = OpenToRead(dir); err != nil {
		t.Fatal(err)
	}
	if got := ask(t, ix, Query{Words: "frozen"}); !slices.Equal(got, []string{"en#2"}) {
		t.Errorf("found %v", got)
	}
	ix.Close()
	if _, err := Open(dir); !errors.Is(err, ErrReadOnly) {
		t.Errorf("opening to write: %v, want ErrReadOnly", err)
	}
	if _, err := os.Stat(dir); err != nil {
		t.Error(err)
	}
}

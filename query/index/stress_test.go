package index

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime/pprof"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

// within runs f and ends the test, with what every goroutine stands at, when f
// has not come back after a time that no machine needs.
func within(t *testing.T, what string, f func()) {
	t.Helper()
	done := make(chan struct{})
	go func() {
		defer close(done)
		f()
	}()
	select {
	case <-done:
	case <-time.After(time.Minute):
		var at strings.Builder
		pprof.Lookup("goroutine").WriteTo(&at, 1)
		t.Fatalf("%s: it waits for ever\n%s", what, at.String())
	}
}

// TestManyHands: an index that is written, searched, listed, copied and closed
// by many at once answers all of them or says that it is closed, and is whole
// afterwards.
func TestManyHands(t *testing.T) {
	rounds := 6
	if testing.Short() {
		rounds = 2
	}
	dir := made(t)
	put := map[string]bool{}
	for round := range rounds {
		within(t, fmt.Sprintf("round %d", round), func() {
			for _, key := range manyHands(t, dir, round) {
				put[key] = true
			}
		})
	}
	ix, err := OpenToRead(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer ix.Close()
	for key := range put {
		if _, ok, err := ix.Stamp(key); !ok || err != nil {
			t.Errorf("%s was put in, and is not there: %v", key, err)
		}
	}
	if got := ask(t, ix, Query{Words: "frozen"}); !slices.Contains(got, "en#2") {
		t.Errorf("found %v", got)
	}
	if faults, err := Faults(ctx, dir); len(faults) > 0 || err != nil {
		t.Errorf("faults %v %v", faults, err)
	}
}

// manyHands opens the index, sets its hands to work, closes it under them after
// a while, and returns the papers that were surely put in.
func manyHands(t *testing.T, dir string, round int) (put []string) {
	ix, err := Open(dir)
	if err != nil {
		t.Error(err)
		return nil
	}
	var hands sync.WaitGroup
	var mu sync.Mutex
	closed := make(chan struct{})
	work := func(what string, f func(n int) error) {
		hands.Go(func() {
			for n := 0; ; n++ {
				err := f(n)
				if errors.Is(err, ErrClosed) {
					return
				}
				if err != nil {
					t.Errorf("%s: %v", what, err)
					return
				}
			}
		})
	}
	for hand := range 2 {
		work("writing", func(n int) error {
			p := killPaper(n)
			p.Key = fmt.Sprintf("r%dh%dn%d", round, hand, n)
			if err := ix.Put(ctx, p); err != nil {
				return err
			}
			ix.mu.Lock()
			ix.published = time.Time{} // a copy with every batch
			ix.mu.Unlock()
			if err := ix.Flush(ctx); err != nil {
				return err
			}
			mu.Lock()
			put = append(put, p.Key)
			mu.Unlock()
			return nil
		})
	}
	work("removing", func(n int) error { return ix.Remove(ctx, fmt.Sprintf("nobody%d", n)) })
	work("searching", func(int) error { _, err := ix.Search(ctx, Query{Words: "Branchinella frozen|invented"}); return err })
	work("listing", func(int) error { _, err := ix.Keys(); return err })
	work("counting", func(int) error { _, err := ix.Pages(); return err })
	work("looking up", func(n int) error {
		_, _, err := ix.Stamp("en")
		_, err2 := ix.NamesLike("branchinela")
		return errors.Join(err, err2)
	})
	hands.Go(func() {
		for {
			select {
			case <-closed:
				return
			default:
				searchCopy(t, dir)
			}
		}
	})
	time.Sleep(time.Duration(5+rand.IntN(60)) * time.Millisecond)
	if err := ix.Close(); err != nil {
		t.Error(err)
	}
	close(closed)
	hands.Wait()
	return put
}

// searchCopy opens the newest copy, searches it and lets go of it.
func searchCopy(t *testing.T, dir string) {
	ro, err := OpenToRead(dir)
	if err != nil {
		if !errors.Is(err, ErrInUse) {
			t.Errorf("opening a copy: %v", err)
		}
		return
	}
	ro.Stale()
	if _, err := ro.Search(ctx, Query{Words: "frozen"}); err != nil {
		t.Errorf("searching a copy: %v", err)
	}
	if err := ro.Close(); err != nil {
		t.Errorf("closing a copy: %v", err)
	}
}

// TestDamageEndsNoCallInAWait: whatever stands in the files of an index, each
// call comes back, the closing too.
func TestDamageEndsNoCallInAWait(t *testing.T) {
	whole := made(t)
	rnd := rand.New(rand.NewPCG(7, 7))
	opened := 0
	for range 60 {
		dir := filepath.Join(t.TempDir(), DirName)
		if err := os.CopyFS(dir, os.DirFS(whole)); err != nil {
			t.Fatal(err)
		}
		os.RemoveAll(filepath.Join(dir, copiesName))
		segments, err := filepath.Glob(filepath.Join(dir, "store", "*.zap"))
		if err != nil || len(segments) == 0 {
			t.Fatal("no segments")
		}
		b, err := os.ReadFile(segments[0])
		if err != nil {
			t.Fatal(err)
		}
		at := rnd.IntN(len(b) - 40)
		for i := range 1 + rnd.IntN(16) {
			b[at+i] = byte(rnd.Uint32())
		}
		if err := os.WriteFile(segments[0], b, 0o666); err != nil {
			t.Fatal(err)
		}
		within(t, fmt.Sprintf("noise at byte %d of %d", at, len(b)), func() {
			ix, err := Open(dir)
			if err != nil {
				return
			}
			opened++
			ix.Search(ctx, Query{Words: "hatch"})
			ix.Keys()
			ix.NamesLike("branchinela")
			ix.Put(ctx, invented()...)
			ix.Flush(ctx)
			ix.Close()
		})
	}
	if opened == 0 {
		t.Error("no damaged index was opened at all")
	}
	t.Logf("%d of 60 damaged indexes were opened", opened)
}

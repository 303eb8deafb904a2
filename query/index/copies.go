package index

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"time"

	"github.com/blevesearch/bleve/v2"

	"hatchlore/query/index/segment"
)

// A reader never waits for the writer, nor the writer for a reader: whoever
// opens the index to read opens a copy of it as it was at some moment. The
// copies stand in the index's own folder, numbered upwards, the last one alone
// kept. They cost next to nothing, for the files of the index are never altered
// and are linked and not copied; where the file system has no links there are
// no copies, and readers and the writer share the index by turns.
const copiesName = "copies"

// publishEvery is how old the newest copy may get while the index is written
// to. A slow copy is made more seldom, see publishShare.
const (
	publishEvery = 15 * time.Second
	publishShare = 20 // a copy may take this part of the time
)

// publish makes a copy of what was flushed, in place of the one before. The
// caller holds ix.mu.
func (ix *Index) publish() error {
	began := time.Now()
	copies := filepath.Join(ix.dir, copiesName)
	making := filepath.Join(copies, "making")
	if err := os.RemoveAll(making); err != nil {
		return err
	}
	c, ok := ix.bleve.(bleve.IndexCopyable)
	if !ok {
		return errors.New("the engine makes no copies")
	}
	// After a flush every file of the index is written, so that each can be
	// linked as it is.
	if err := guard(func() error { return c.CopyTo(segment.Linked{From: ix.dir, To: making}) }); err != nil {
		os.RemoveAll(making)
		return err
	}
	before := copiesIn(ix.dir)
	next := 1
	if len(before) > 0 {
		next = before[len(before)-1] + 1
	}
	if err := os.Rename(making, copyDir(ix.dir, next)); err != nil {
		return err
	}
	for _, n := range before {
		// At one stroke, for a reader may be opening it. One that has it open
		// keeps its files; where the system does not allow that, it is removed
		// next time.
		if os.Rename(copyDir(ix.dir, n), making) == nil {
			os.RemoveAll(making)
		}
	}
	ix.published, ix.copying = time.Now(), time.Since(began)
	return nil
}

// show makes a copy for readers. Where that fails, as on a file system without
// links or on a full disk, there is none rather than an old one for good:
// readers then take turns with the writer.
func (ix *Index) show() {
	if ix.failed {
		return // what the disk has not got cannot be shown
	}
	if err := ix.publish(); err != nil {
		os.RemoveAll(filepath.Join(ix.dir, copiesName))
		ix.published = time.Now()
	}
}

// due reports whether it is time for another copy.
func (ix *Index) due() bool {
	return time.Since(ix.published) > max(publishEvery, publishShare*ix.copying)
}

// copiesIn returns the numbers of the copies, the newest last.
func copiesIn(dir string) []int {
	entries, err := os.ReadDir(filepath.Join(dir, copiesName))
	if err != nil {
		return nil
	}
	var out []int
	for _, e := range entries {
		if n, err := strconv.Atoi(e.Name()); err == nil {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

func copyDir(dir string, n int) string {
	return filepath.Join(dir, copiesName, strconv.Itoa(n))
}

// openCopy opens the newest copy; [ErrMissing] when there is none that opens.
func openCopy(dir string) (*Index, error) {
	for range 3 {
		copies := copiesIn(dir)
		if len(copies) == 0 {
			break
		}
		n := copies[len(copies)-1]
		ix, err := open(copyDir(dir, n), true, lockWait)
		if err == nil {
			ix.of = dir
			return ix, nil
		}
		if _, statErr := os.Stat(copyDir(dir, n)); !errors.Is(statErr, fs.ErrNotExist) {
			return nil, err
		}
		// A newer one has just taken its place.
	}
	return nil, fmt.Errorf("opening %s: %w", dir, ErrMissing)
}

// Copy reports whether a copy is open, which is in nobody's way.
func (ix *Index) Copy() bool { return ix.of != "" }

// Stale reports whether a newer state than the one opened is there to be
// opened. It is false for an index that is not a copy.
func (ix *Index) Stale() bool {
	copies := copiesIn(ix.of)
	if ix.of == "" || len(copies) == 0 {
		return false
	}
	newest, err := os.Stat(copyDir(ix.of, copies[len(copies)-1]))
	return err == nil && !os.SameFile(newest, ix.folder)
}

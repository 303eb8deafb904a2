package index

import (
	"errors"
	"fmt"
	"log"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/index/scorch"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"hatchlore/query/index/book"
)

// The engine works in goroutines of its own, and some of its calls wait for
// those. Where one of them ends on damage, such a call would wait for ever, and
// so would whoever wants to close the index. This file stands between.

// starting guards what all open indexes of a process share while one is opened:
// the standard logger, in which the engine reports damage that it passes over,
// and the engine's list of those who want to hear of its faults.
var starting sync.Mutex

// faultListener is the name under which an index is in that list.
const faultListener = "hatchlore"

// start opens the engine and returns what it logged.
func (ix *Index) start(config map[string]any) (said string, err error) {
	starting.Lock()
	defer starting.Unlock()
	scorch.RegistryAsyncErrorCallbacks[faultListener] = ix.hear
	defer delete(scorch.RegistryAsyncErrorCallbacks, faultListener)
	config["asyncErrorCallbackName"] = faultListener
	var b strings.Builder
	before := log.Writer()
	log.SetOutput(&b)
	defer log.SetOutput(before)
	ix.bleve, err = bleve.OpenUsing(ix.dir, config)
	return strings.TrimSpace(b.String()), err
}

// hear takes note of a goroutine of the engine that has ended. Other faults come
// back from the call that they belong to, or are tried again by the engine.
func (ix *Index) hear(err error, _ string) {
	if !errors.Is(err, scorch.ErrAsyncPanic) {
		return
	}
	select {
	case ix.broken <- fmt.Errorf("%w (%w)", ErrDamaged, err):
	default:
	}
}

// await runs a call that waits for the engine's goroutines, and gives up when
// one of them has ended.
func (ix *Index) await(f func() error) error {
	done := make(chan error, 1)
	go func() { done <- guard(f) }()
	select {
	case err := <-done:
		return err
	case err := <-ix.broken:
		ix.broken <- err // for those who come after
		return err
	}
}

// stop closes the engine. Where one of its goroutines has ended, a call that
// waits for that keeps the engine's outer lock; what lies below, with the lock on
// the files, is closed all the same, if it can be.
func (ix *Index) stop() error {
	err := ix.await(ix.bleve.Close)
	select {
	case broken := <-ix.broken:
		ix.broken <- broken
	default:
		return err
	}
	closed := make(chan struct{})
	go func() {
		defer close(closed)
		guard(func() error {
			inner, err := ix.bleve.Advanced()
			if err != nil {
				return err
			}
			return inner.Close()
		})
	}()
	select {
	case <-closed:
	case <-time.After(lockWait):
	}
	return err
}

// ask runs f, which reads the engine, unless the index is closed, and keeps it
// open meanwhile. f must not ask again.
func (ix *Index) ask(f func() error) error {
	ix.life.RLock()
	defer ix.life.RUnlock()
	if ix.closed {
		return ErrClosed
	}
	return guard(f)
}

// read runs f on the engine's view of the index as it is now.
func (ix *Index) read(f func(bleveindex.IndexReader) error) (err error) {
	i, err := ix.bleve.Advanced()
	if err != nil {
		return err
	}
	r, err := i.Reader()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	return f(r)
}

// terms returns the terms of a field, in order.
func (ix *Index) terms(field string) (out []string, err error) {
	err = ix.read(func(r bleveindex.IndexReader) error {
		out, err = book.Collect(r.FieldDict(field))
		return err
	})
	return out, err
}

// guard runs f and turns a panic, or a fault on a file that is shorter than
// its own tables say, into [ErrDamaged]. The engine maps its files into memory
// and trusts them.
func guard(f func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%w (%v)", ErrDamaged, r)
		}
	}()
	return f()
}

package library

import (
	"context"
	"fmt"
	"iter"
	"runtime"
)

// Read is one paper read, or why it was not.
type Read struct {
	Reading *Reading
	Err     error
}

// ReadAll reads the papers among files, several at a time, and yields them in
// the order given. Files that are no papers are passed over.
func (r *Reader) ReadAll(ctx context.Context, files []Found) iter.Seq[Read] {
	return func(yield func(Read) bool) {
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		// Each paper's result waits in a channel of its own until its turn;
		// only a few run ahead, so that memory stays bounded.
		queue := make(chan chan Read, runtime.NumCPU())
		go func() {
			defer close(queue)
			for _, f := range files {
				if f.State == Left {
					continue
				}
				result := make(chan Read, 1)
				select {
				case queue <- result:
					go func() { result <- r.one(ctx, f) }()
				case <-ctx.Done():
					return
				}
			}
		}()
		for result := range queue {
			if read := <-result; ctx.Err() != nil || !yield(read) {
				return
			}
		}
	}
}

func (r *Reader) one(ctx context.Context, f Found) Read {
	if !f.Paper() {
		return Read{Err: fmt.Errorf("%s %s", f.Path, f.Why)}
	}
	reading, err := r.Read(ctx, f.Path)
	return Read{reading, err}
}

package library

import (
	"context"
	"fmt"
	"iter"
	"slices"
)

// Read is one paper read, or why it was not.
type Read struct {
	Reading *Reading
	Err     error
}

// ReadAll reads the papers among files, several at a time, and yields them in
// the order given. Files that are no papers are passed over.
func (r *Reader) ReadAll(ctx context.Context, files []Found) iter.Seq[Read] {
	files = slices.DeleteFunc(slices.Clone(files), func(f Found) bool { return f.State == Left || f.State == Matched })
	return inOrder(ctx, files, r.one)
}

func (r *Reader) one(ctx context.Context, f Found) Read {
	if !f.Paper() {
		return Read{Err: fmt.Errorf("%s %s", f.Path, f.Why)}
	}
	reading, err := r.Read(ctx, f.Path)
	return Read{reading, err}
}

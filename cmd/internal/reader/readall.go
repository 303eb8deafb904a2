package reader

import (
	"context"
	"fmt"
	"iter"
	"slices"
)

// Result is one paper read, or why it was not.
type Result struct {
	Reading *Reading
	Err     error
}

// ReadAll reads the papers among files, several at a time, and yields them in
// the order given. Files that are no papers are passed over.
func (r *Reader) ReadAll(ctx context.Context, files []Found) iter.Seq[Result] {
	files = slices.DeleteFunc(slices.Clone(files), func(f Found) bool { return f.Kind == Other || f.Kind == References })
	return InOrder(ctx, files, r.one)
}

func (r *Reader) one(ctx context.Context, f Found) Result {
	if f.Kind != Paper {
		return Result{Err: fmt.Errorf("%s %s", f.Path, f.Why)}
	}
	reading, err := r.Read(ctx, f.Path)
	return Result{reading, err}
}

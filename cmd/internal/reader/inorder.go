package reader

import (
	"context"
	"iter"
	"runtime"
)

// ahead is how many results may wait for their turn: enough that one slow
// paper does not idle the other readers, few enough to bound memory.
const ahead = 8

// InOrder does something with each item, as many at a time as the machine has
// cores, and yields the results in the order of the items. It ends early when
// ctx does; whoever ranges over it may stop at any time.
func InOrder[T, U any](ctx context.Context, items []T, do func(context.Context, T) U) iter.Seq[U] {
	return func(yield func(U) bool) {
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		queue := make(chan chan U, ahead)
		slots := make(chan struct{}, runtime.NumCPU())
		go func() {
			defer close(queue)
			for _, item := range items {
				result := make(chan U, 1)
				select {
				case queue <- result:
				case <-ctx.Done():
					return
				}
				select {
				case slots <- struct{}{}:
				case <-ctx.Done():
					close(result)
					return
				}
				go func() {
					defer func() { <-slots }()
					result <- do(ctx, item)
				}()
			}
		}()
		for result := range queue {
			if u, ok := <-result; !ok || ctx.Err() != nil || !yield(u) {
				return
			}
		}
	}
}

//go:build unix

package upkeep

import (
	"syscall"
	"time"
)

// processorTime returns what this process and the ended ones that it started
// have used of the processors; 0 where that is not told.
func processorTime() time.Duration {
	var sum time.Duration
	for _, who := range []int{syscall.RUSAGE_SELF, syscall.RUSAGE_CHILDREN} {
		var u syscall.Rusage
		if syscall.Getrusage(who, &u) != nil {
			return 0
		}
		sum += time.Duration(u.Utime.Nano() + u.Stime.Nano())
	}
	return sum
}

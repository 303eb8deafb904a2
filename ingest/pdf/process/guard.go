package process

import (
	"fmt"
	"os"
	"runtime/debug"
	"runtime/metrics"
	"strconv"
	"time"
)

// envMemory carries the memory limit to the reader process, in bytes.
const envMemory = "HATCHLORE_READER_MEMORY"

// exitMemory is the status of a reader process that ran out of its memory.
const exitMemory = 77

// guardProcess bounds the memory of this reader process from inside: the
// collector works harder near the limit, a watch ends the process beyond it,
// and the kernel refuses the wholly absurd.
func guardProcess() {
	limit, err := strconv.ParseInt(os.Getenv(envMemory), 10, 64)
	if err != nil || limit <= 0 {
		limit = defaultMemory
	}
	debug.SetGCPercent(200)
	debug.SetMemoryLimit(limit * 3 / 4)
	limitProcess(uint64(limit) * 3)
	go watchHeap(uint64(limit))
}

func watchHeap(limit uint64) {
	sample := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
	for range time.Tick(50 * time.Millisecond) {
		metrics.Read(sample)
		if used := sample[0].Value.Uint64() - sample[1].Value.Uint64(); used > limit {
			fmt.Fprintf(os.Stderr, "out of memory: %d MB in use\n", used>>20)
			os.Exit(exitMemory)
		}
	}
}

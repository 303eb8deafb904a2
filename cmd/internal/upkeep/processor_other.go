//go:build !unix

package upkeep

import "time"

func processorTime() time.Duration { return 0 }

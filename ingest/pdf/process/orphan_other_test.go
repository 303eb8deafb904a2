//go:build !linux

package process

// envOrphan is set by no test here: how to list processes differs by system.
const envOrphan = "HATCHLORE_TEST_ORPHAN"

func orphan() {}

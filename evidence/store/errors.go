package store

import (
	"errors"

	"hatchlore/evidence/store/disk"
)

// The faults a caller may want to tell apart. Each is a whole sentence for the
// keeper; what was asked for did not happen, and what was stored before is whole.
var (
	ErrNoPaper = errors.New("no such paper in the library: 'hatchlore papers' lists them")
	ErrNoPage  = errors.New("the paper has no such page")
	ErrNoClaim = errors.New("no such claim in the library: 'hatchlore evidence' lists them with their ids")
)

// Those of the file itself; see [disk].
var (
	ErrNewer    = disk.ErrNewer
	ErrForeign  = disk.ErrForeign
	ErrDamaged  = disk.ErrDamaged
	ErrFull     = disk.ErrFull
	ErrReadOnly = disk.ErrReadOnly
)

// InUse says that another process is writing to the library.
type InUse = disk.InUse

func explain(err error) error { return disk.Explain(err) }

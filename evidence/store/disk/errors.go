package disk

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"syscall"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// The faults a caller may want to tell apart. Each is a whole sentence for the
// keeper; what was asked for did not happen, and what was stored before is whole.
var (
	ErrNewer    = errors.New("the library was written by a newer version of this program: update the program and try again")
	ErrForeign  = errors.New(FileName + " is a database of another program: choose another folder for the library")
	ErrDamaged  = errors.New(FileName + " is damaged: put back a copy, such as 'hatchlore check --backup' makes, or move it away and ingest the papers again without your decisions")
	ErrFull     = errors.New("the disk is full: free some space and try again; what was stored before is safe")
	ErrReadOnly = errors.New("the library cannot be written: make its folder writable or choose another with --library")
)

// InUse says that another process is writing to the library.
type InUse struct {
	PID   int       // 0 when the holder could not say who it is
	Since time.Time // when it took the library
	Doing string
}

func (e *InUse) Error() string {
	if e.PID == 0 {
		return "another process is writing to the library: try again when it has finished"
	}
	doing := ""
	if e.Doing != "" {
		doing = " (" + e.Doing + ")"
	}
	return fmt.Sprintf("process %d%s has been writing to the library since %s: try again when it has finished",
		e.PID, doing, e.Since.Local().Format("15:04:05"))
}

// Explain turns an error of SQLite or the file system into one of this
// package's, with the original behind it. Other errors pass unchanged.
func Explain(err error) error {
	if err == nil || known(err) {
		return err
	}
	if e := sentence(err); e != nil {
		return &fault{e, err}
	}
	return err
}

func known(err error) bool {
	var in *InUse
	if errors.As(err, &in) || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return true
	}
	for _, e := range []error{ErrNewer, ErrForeign, ErrDamaged, ErrFull, ErrReadOnly} {
		if errors.Is(err, e) {
			return true
		}
	}
	return false
}

func sentence(err error) error {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return sentenceOfCode(e.Code())
	}
	switch {
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return ErrFull
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return ErrReadOnly
	}
	return nil
}

func sentenceOfCode(code int) error {
	switch code {
	case sqlite3.SQLITE_IOERR_SHMSIZE, sqlite3.SQLITE_IOERR_WRITE, sqlite3.SQLITE_IOERR_FSYNC, sqlite3.SQLITE_IOERR_TRUNCATE:
		// Growing the shared-memory file is where a full disk shows first.
		return ErrFull
	case sqlite3.SQLITE_IOERR_SHORT_READ, sqlite3.SQLITE_IOERR_CORRUPTFS, sqlite3.SQLITE_IOERR_DATA:
		return ErrDamaged
	}
	switch code & 0xff {
	case sqlite3.SQLITE_FULL:
		return ErrFull
	case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM:
		return ErrReadOnly
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_FORMAT:
		return ErrDamaged
	case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
		return &InUse{}
	}
	return nil
}

// fault shows the keeper one sentence and keeps the cause for errors.Is and As.
type fault struct{ sentence, cause error }

func (f *fault) Error() string   { return f.sentence.Error() }
func (f *fault) Unwrap() []error { return []error{f.sentence, f.cause} }

// Package store keeps a library: papers with their pages as read, the claims
// found in them, and what the keeper decided over those claims. It is one
// SQLite file, library.db, in a folder that the keeper can copy.
//
// One paper is one transaction: after a crash or a kill each paper is there
// whole or not at all. Many processes may read while one writes; a second
// writer waits a little and is then told who holds the library. A decision
// outlives a new reading of its paper and even the paper's removal.
//
// It refuses to store anything derived (tables, conflicts, the search index),
// to open a library that a newer program wrote, and to write past damage: it
// says what is wrong and what to do, and leaves the file as it was.
package store

import (
	"context"

	"hatchlore/evidence/store/disk"
	"hatchlore/evidence/store/packed"
)

// FileName is the database's name in the library folder.
const FileName = disk.FileName

// Store is an open library. Its methods may be called from several goroutines.
type Store struct {
	file   *disk.File
	packer *packed.Packer // used inside a change, of which there is one at a time
}

// Open opens the library in dir, making the folder and an empty library where
// there is none, and brings an older library up to date.
//
// In a folder that cannot be written an existing library is opened for reading
// and every change fails with [ErrReadOnly]. Other errors: [ErrNewer],
// [ErrForeign], [ErrDamaged], [ErrFull], and [*InUse] when an update has to
// wait for another process.
func Open(dir string) (*Store, error) {
	f, err := disk.Open(dir)
	if err != nil {
		return nil, err
	}
	return &Store{file: f, packer: packed.New()}, nil
}

// Exists reports whether dir holds a library.
func Exists(dir string) bool { return disk.Exists(dir) }

// Dir returns the folder that the library was opened in.
func (s *Store) Dir() string { return s.file.Dir() }

// Close ends every use of the library and lets go of it.
func (s *Store) Close() error { return s.file.Close() }

// Hold keeps the library for this Store over many changes, so that another
// process sees one long job and not its pieces. Release it soon; it is not
// needed for single changes.
func (s *Store) Hold(ctx context.Context, doing string) (release func(), err error) {
	return s.file.Hold(ctx, doing)
}

// Holder says which other process is writing to the library now, nil when none
// is. It does not wait.
func (s *Store) Holder() *InUse { return s.file.Holder() }

// State returns a number that differs from an earlier one when the library was
// changed in between, by this process or another. What was computed of the
// library holds as long as the number stays. Numbers of two Stores say nothing
// of each other.
func (s *Store) State(ctx context.Context) (int64, error) { return s.file.State(ctx) }

// Backup writes a whole, compact copy of the library to path, which must not
// exist yet. Others may read and write meanwhile.
func (s *Store) Backup(ctx context.Context, path string) error { return s.file.Backup(ctx, path) }

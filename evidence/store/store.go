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
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"time"

	_ "modernc.org/sqlite" // the "sqlite" driver of database/sql
)

// FileName is the database's name in the library folder.
const FileName = "library.db"

const (
	idle        = 4               // reading connections kept open
	busyTimeout = 5 * time.Second // SQLite's own wait, above the lock's
)

// Store is an open library. Its methods may be called from several goroutines.
type Store struct {
	dir      string
	read     *sql.DB
	write    *sql.DB // nil when the folder cannot be written
	lock     *lock
	packer   *packer // used inside a transaction, of which there is one at a time
	whyNotRW error   // why write is nil

	watching sync.Mutex
	watch    *sql.Conn // sees that the library changed; nil until it is needed
	watches  int64     // connections that watched before
}

// Open opens the library in dir, making the folder and an empty library where
// there is none, and brings an older library up to date.
//
// In a folder that cannot be written an existing library is opened for reading
// and every change fails with [ErrReadOnly]. Other errors: [ErrNewer],
// [ErrForeign], [ErrDamaged], [ErrFull], and [*InUse] when an update has to
// wait for another process.
func Open(dir string) (*Store, error) {
	path := filepath.Join(dir, FileName)
	lk, err := openLock(dir)
	if err != nil {
		if _, statErr := os.Stat(path); statErr != nil {
			return nil, fmt.Errorf("opening the library in %s: %w", dir, explain(err))
		}
		return openToRead(dir, err)
	}
	s := &Store{dir: dir, lock: lk, packer: newPacker()}
	if err := s.openToWrite(path); err != nil {
		s.Close()
		if errors.Is(err, ErrReadOnly) {
			return openToRead(dir, err)
		}
		return nil, fmt.Errorf("opening the library in %s: %w", dir, err)
	}
	return s, nil
}

// Exists reports whether dir holds a library.
func Exists(dir string) bool {
	st, err := os.Stat(filepath.Join(dir, FileName))
	return err == nil && st.Mode().IsRegular()
}

func (s *Store) openToWrite(path string) error {
	if !holdsData(path) {
		// Two processes that make the same library at once would trip over
		// each other's switch to WAL.
		release, err := s.lock.hold(context.Background(), "making the library")
		if err != nil {
			return err
		}
		defer release()
	}
	var err error
	if s.write, err = connect(path, "rwc", "_txlock=immediate", pragmas("journal_mode(wal)", "synchronous(full)", "journal_size_limit(67108864)", "cache_size(-16384)")); err != nil {
		return err
	}
	s.write.SetMaxOpenConns(1)
	if err := s.migrate(context.Background()); err != nil {
		return explain(err)
	}
	s.read, err = connect(path, "rw", pragmas("query_only(1)"))
	return err
}

// openToRead opens a library in a folder that cannot be written. SQLite needs
// to write beside a WAL file unless it is told that nobody will.
func openToRead(dir string, why error) (*Store, error) {
	s := &Store{dir: dir, whyNotRW: why}
	path := filepath.Join(dir, FileName)
	var err error
	for _, opt := range []string{"", "immutable=1"} {
		if opt != "" && holdsData(path+"-wal") {
			break // ignoring the WAL would show a library that never was
		}
		if s.read, err = connect(path, "ro", opt); err != nil {
			continue
		}
		if err = upToDate(context.Background(), s.read); err == nil {
			return s, nil
		}
		s.read.Close()
	}
	return nil, fmt.Errorf("opening the library in %s: %w", dir, explain(err))
}

func holdsData(path string) bool {
	st, err := os.Stat(path)
	return err == nil && st.Size() > 0
}

func connect(path, mode string, options ...string) (*sql.DB, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	dsn := "file:" + (&url.URL{Path: filepath.ToSlash(abs)}).EscapedPath() + "?mode=" + mode +
		"&" + pragmas(fmt.Sprintf("busy_timeout(%d)", busyTimeout.Milliseconds()), "foreign_keys(1)", "temp_store(memory)")
	for _, o := range options {
		if o != "" {
			dsn += "&" + o
		}
	}
	db, err := sql.Open("sqlite", dsn)
	if err != nil {
		return nil, explain(err)
	}
	db.SetMaxIdleConns(idle) // no bound on open ones: nested iterations would wait for each other
	if err := db.Ping(); err != nil {
		db.Close()
		return nil, explain(err)
	}
	return db, nil
}

func pragmas(list ...string) string {
	v := url.Values{}
	for _, p := range list {
		v.Add("_pragma", p)
	}
	return v.Encode()
}

// Dir returns the folder that the library was opened in.
func (s *Store) Dir() string { return s.dir }

// Close ends every use of the library and lets go of it.
func (s *Store) Close() error {
	errs := []error{s.stopWatching()}
	if s.read != nil {
		errs = append(errs, s.read.Close())
	}
	if s.write != nil {
		errs = append(errs, s.write.Close())
	}
	if s.lock != nil {
		errs = append(errs, s.lock.close())
	}
	return errors.Join(errs...)
}

// change runs f in a transaction that is kept whole or not at all, under the
// writers' lock. doing tells another process what it is waiting for.
func (s *Store) change(ctx context.Context, doing string, f func(*sql.Tx) error) error {
	if s.write == nil {
		return fmt.Errorf("%w (%s)", ErrReadOnly, plain(s.whyNotRW))
	}
	release, err := s.lock.hold(ctx, doing)
	if err != nil {
		return err
	}
	defer release()
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return explain(err)
	}
	if err := f(tx); err != nil {
		tx.Rollback()
		return explain(err)
	}
	return explain(tx.Commit())
}

// Hold keeps the library for this Store over many changes, so that another
// process sees one long job and not its pieces. Release it soon; it is not
// needed for single changes.
func (s *Store) Hold(ctx context.Context, doing string) (release func(), err error) {
	if s.write == nil {
		return nil, fmt.Errorf("%w (%s)", ErrReadOnly, plain(s.whyNotRW))
	}
	return s.lock.hold(ctx, doing)
}

func plain(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	if err == nil {
		return "unknown reason"
	}
	return err.Error()
}

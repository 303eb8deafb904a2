// Package disk keeps a library's file: it makes and opens it, brings an older
// one up to date, lets many processes read while one writes, and says in a
// keeper's words what is wrong with it.
//
// A change is kept whole or not at all, under a lock that says who holds it.
//
// It refuses to open a library that a newer program wrote or that is another
// program's, and to write past damage. What stands in the tables is the
// business of package store; which tables there are is told by the migrations.
package disk

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

// File is an open library file. Its methods may be called from several goroutines.
type File struct {
	dir      string
	read     *sql.DB
	write    *sql.DB // nil when the folder cannot be written
	lock     *lock
	whyNotRW error // why write is nil

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
func Open(dir string) (*File, error) {
	path := filepath.Join(dir, FileName)
	lk, err := openLock(dir)
	if err != nil {
		if _, statErr := os.Stat(path); statErr != nil {
			return nil, fmt.Errorf("opening the library in %s: %w", dir, Explain(err))
		}
		return openToRead(dir, err)
	}
	f := &File{dir: dir, lock: lk}
	if err := f.openToWrite(path); err != nil {
		f.Close()
		if errors.Is(err, ErrReadOnly) {
			return openToRead(dir, err)
		}
		return nil, fmt.Errorf("opening the library in %s: %w", dir, err)
	}
	return f, nil
}

// Exists reports whether dir holds a library.
func Exists(dir string) bool {
	st, err := os.Stat(filepath.Join(dir, FileName))
	return err == nil && st.Mode().IsRegular()
}

func (f *File) openToWrite(path string) error {
	if !holdsData(path) {
		// Two processes that make the same library at once would trip over
		// each other's switch to WAL.
		release, err := f.lock.hold(context.Background(), "making the library")
		if err != nil {
			return err
		}
		defer release()
	}
	var err error
	if f.write, err = connect(path, "rwc", "_txlock=immediate", pragmas("journal_mode(wal)", "synchronous(full)", "journal_size_limit(67108864)", "cache_size(-16384)")); err != nil {
		return err
	}
	f.write.SetMaxOpenConns(1)
	if err := f.migrate(context.Background()); err != nil {
		return Explain(err)
	}
	f.read, err = connect(path, "rw", pragmas("query_only(1)"))
	return err
}

// openToRead opens a library in a folder that cannot be written. SQLite needs
// to write beside a WAL file unless it is told that nobody will.
func openToRead(dir string, why error) (*File, error) {
	f := &File{dir: dir, whyNotRW: why}
	path := filepath.Join(dir, FileName)
	var err error
	for _, opt := range []string{"", "immutable=1"} {
		if opt != "" && holdsData(path+"-wal") {
			break // ignoring the WAL would show a library that never was
		}
		if f.read, err = connect(path, "ro", opt); err != nil {
			continue
		}
		if err = upToDate(context.Background(), f.read); err == nil {
			return f, nil
		}
		f.read.Close()
	}
	return nil, fmt.Errorf("opening the library in %s: %w", dir, Explain(err))
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
		return nil, Explain(err)
	}
	db.SetMaxIdleConns(idle) // no bound on open ones: nested iterations would wait for each other
	if err := db.Ping(); err != nil {
		db.Close()
		return nil, Explain(err)
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
func (f *File) Dir() string { return f.dir }

// Close ends every use of the library and lets go of it.
func (f *File) Close() error {
	errs := []error{f.stopWatching()}
	if f.read != nil {
		errs = append(errs, f.read.Close())
	}
	if f.write != nil {
		errs = append(errs, f.write.Close())
	}
	if f.lock != nil {
		errs = append(errs, f.lock.close())
	}
	return errors.Join(errs...)
}

// Read returns the connections for questions; they refuse changes.
func (f *File) Read() *sql.DB { return f.read }

// Change makes a change that is kept whole or not at all, under the writers'
// lock. doing tells another process what it is waiting for.
func (f *File) Change(ctx context.Context, doing string, make func(*sql.Tx) error) error {
	if f.write == nil {
		return fmt.Errorf("%w (%s)", ErrReadOnly, plain(f.whyNotRW))
	}
	release, err := f.lock.hold(ctx, doing)
	if err != nil {
		return err
	}
	defer release()
	tx, err := f.write.BeginTx(ctx, nil)
	if err != nil {
		return Explain(err)
	}
	if err := make(tx); err != nil {
		tx.Rollback()
		return Explain(err)
	}
	return Explain(tx.Commit())
}

// Hold keeps the library for this File over many changes, so that another
// process sees one long job and not its pieces. Release it soon; it is not
// needed for single changes.
func (f *File) Hold(ctx context.Context, doing string) (release func(), err error) {
	if f.write == nil {
		return nil, fmt.Errorf("%w (%s)", ErrReadOnly, plain(f.whyNotRW))
	}
	return f.lock.hold(ctx, doing)
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

package disk

import (
	"context"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"time"
)

// LockName is the file beside the database that a writer holds. It is never
// deleted: the operating system's lock on it counts, which ends with its
// process, and not that the file is there.
const LockName = "library.lock"

const (
	patience  = 5 * time.Second // how long a second writer waits
	pollEvery = 20 * time.Millisecond
)

// lock is the writers' lock of one File. Within the File one goroutine
// takes the file lock at a time; holds nest.
type lock struct {
	file     *os.File
	deep     chan int // holds the number of holds, the state of the file lock
	patience time.Duration
}

// holder is what the lock file says of the process that holds it.
type holder struct {
	PID   int       `json:"pid"`
	Since time.Time `json:"since"`
	Doing string    `json:"doing"`
}

func openLock(dir string) (*lock, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(filepath.Join(dir, LockName), os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, err
	}
	l := &lock{file: f, deep: make(chan int, 1), patience: patience}
	l.deep <- 0
	return l, nil
}

// hold takes the file lock, or joins a hold of the same File.
func (l *lock) hold(ctx context.Context, doing string) (release func(), err error) {
	var n int
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case n = <-l.deep:
	}
	if n == 0 {
		if err := l.take(ctx, doing); err != nil {
			l.deep <- 0
			return nil, err
		}
	}
	l.deep <- n + 1
	done := false
	return func() {
		if done {
			return
		}
		done = true
		n := <-l.deep
		if n == 1 {
			l.file.Truncate(0) // a leftover name would mislead; the lock itself does not depend on it
			unlockFile(l.file)
		}
		l.deep <- n - 1
	}, nil
}

func (l *lock) take(ctx context.Context, doing string) error {
	deadline := time.Now().Add(l.patience)
	for {
		ok, err := tryLockFile(l.file)
		if err != nil {
			return Explain(err)
		}
		if ok {
			l.sign(doing)
			return nil
		}
		if time.Now().After(deadline) {
			return l.inUse()
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(pollEvery):
		}
	}
}

// sign writes who holds the lock. On a full disk it stays unsigned, which
// costs the waiting process a name and nothing else.
func (l *lock) sign(doing string) {
	b, err := json.Marshal(holder{os.Getpid(), time.Now().UTC().Truncate(time.Second), doing})
	if err != nil {
		return
	}
	if err := l.file.Truncate(0); err == nil {
		l.file.WriteAt(append(b, '\n'), 0)
	}
}

// Holder says which other process is writing to the library now, nil when none
// is: the answer to why a search index is locked, say. It does not wait.
func (f *File) Holder() *InUse {
	if f.lock == nil {
		return nil
	}
	var n int
	select {
	case n = <-f.lock.deep:
	default:
		// This File is waiting for the lock just now: whoever has it signed it.
		if h := f.lock.inUse(); h.PID != 0 && h.PID != os.Getpid() {
			return h
		}
		return nil
	}
	defer func() { f.lock.deep <- n }()
	if n > 0 {
		return nil // this File itself
	}
	if ok, err := tryLockFile(f.lock.file); err != nil || !ok {
		return f.lock.inUse()
	}
	unlockFile(f.lock.file)
	return nil
}

func (l *lock) inUse() *InUse {
	var h holder
	b, err := io.ReadAll(io.NewSectionReader(l.file, 0, 4096))
	if err != nil || json.Unmarshal(b, &h) != nil {
		return &InUse{}
	}
	return &InUse{h.PID, h.Since, h.Doing}
}

func (l *lock) close() error { return l.file.Close() }

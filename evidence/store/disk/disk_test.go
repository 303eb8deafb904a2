package disk

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"
)

var ctx = context.Background()

func open(t *testing.T, dir string) *File {
	t.Helper()
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// note writes something, so that a change has something to change.
func note(f *File) error {
	return f.Change(ctx, "a note", func(tx *sql.Tx) error {
		_, err := tx.Exec(`INSERT OR REPLACE INTO aliases (old, new, reason, made) VALUES ('a', 'b', '', 1)`)
		return err
	})
}

func TestSecondWriterWaitsThenSaysWho(t *testing.T) {
	dir := t.TempDir()
	first, second := open(t, dir), open(t, dir)
	second.lock.patience = 50 * time.Millisecond
	release, err := first.Hold(ctx, "ingest")
	if err != nil {
		t.Fatal(err)
	}
	if err := note(first); err != nil {
		t.Errorf("the holder is in its own way: %v", err)
	}
	err = note(second)
	var in *InUse
	if !errors.As(err, &in) || in.PID != os.Getpid() || in.Doing != "ingest" || time.Since(in.Since) > time.Minute {
		t.Fatalf("error %v, want who holds the library", err)
	}
	if h := second.Holder(); h == nil || h.PID != os.Getpid() || h.Doing != "ingest" {
		t.Errorf("holder %+v", h)
	}
	if h := first.Holder(); h != nil {
		t.Errorf("the holder sees another: %+v", h)
	}
	var aliases int
	if err := second.Read().QueryRow(`SELECT count(*) FROM aliases`).Scan(&aliases); aliases != 1 || err != nil {
		t.Errorf("reading while another writes: %d, %v", aliases, err)
	}
	second.lock.patience = time.Minute
	done := make(chan error)
	go func() { done <- note(second) }()
	time.Sleep(30 * time.Millisecond)
	asked := time.Now()
	second.Holder() // while its File waits for the lock
	if d := time.Since(asked); d > 10*time.Second {
		t.Errorf("asking who holds the library waits %v with its File", d)
	}
	release()
	release() // twice is once
	if err := <-done; err != nil {
		t.Errorf("after waiting: %v", err)
	}
	if h := first.Holder(); h != nil {
		t.Errorf("holder after all is done: %+v", h)
	}
}

// An older library in a folder that cannot be written says that it has to be
// brought up to date first, and stays as it was.
func TestOlderFormToRead(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, FileName)
	first, err := migrationFiles.ReadFile("migrations/0001_library.sql")
	if err != nil {
		t.Fatal(err)
	}
	db, err := connect(path, "rwc")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.Exec(string(first) + fmt.Sprintf("; PRAGMA user_version = 1; PRAGMA application_id = %d", applicationID)); err != nil {
		t.Fatal(err)
	}
	db.Close()
	if _, err := openToRead(dir, os.ErrPermission); !errors.Is(err, ErrReadOnly) {
		t.Errorf("an older form was read as if it were the present one: %v", err)
	}
	if db, err = connect(path, "ro"); err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if v, err := schemaVersion(ctx, db); v != 1 || err != nil {
		t.Errorf("the form is now %d, %v", v, err)
	}
}

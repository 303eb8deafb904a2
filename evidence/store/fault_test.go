package store

import (
	"bytes"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hatchlore/evidence/store/disk"
)

// change writes past the Store.
func change(t *testing.T, s *Store, query string) {
	t.Helper()
	if err := s.file.Change(ctx, "a test", func(tx *sql.Tx) error { _, err := tx.Exec(query); return err }); err != nil {
		t.Fatal(err)
	}
}

func TestManyAtOnce(t *testing.T) {
	dir := t.TempDir()
	errs := make(chan error)
	const writers, papers = 4, 5
	for w := range writers {
		go func() {
			s, err := Open(dir) // making the library is a race too
			for i := 0; i < papers && err == nil; i++ {
				_, err = s.Put(ctx, paper(100*w+i, textA, textB), nil)
			}
			if err == nil {
				err = s.Close()
			}
			errs <- err
		}()
	}
	for range writers {
		if err := <-errs; err != nil {
			t.Error(err)
		}
	}
	c, err := open(t, dir).Counts(ctx)
	if c.Papers != writers*papers || err != nil {
		t.Errorf("%+v %v, want %d papers", c, err, writers*papers)
	}
}

// fullDisk fills s until it reports a full disk, and checks that the paper in
// hand was not stored and the others are whole.
func fullDisk(t *testing.T, s *Store) {
	t.Helper()
	text := strings.Repeat("The keeper counts invented eggs of every clutch. ", 40)
	for seed := range 2000 {
		// Text that does not compress away.
		p := paper(seed, textA+text+strings.Repeat(string(rune('a'+seed%26)), seed), textB+hexNoise(seed, 8000))
		_, err := s.Put(ctx, p, nil)
		if err == nil {
			continue
		}
		if !errors.Is(err, ErrFull) || !strings.Contains(err.Error(), "the disk is full") {
			t.Fatalf("paper %d: error %v, want ErrFull", seed, err)
		}
		if strings.Contains(err.Error(), "\n") || strings.Contains(err.Error(), "SQLITE") {
			t.Errorf("the sentence is not one for a keeper: %v", err)
		}
		if seed == 0 {
			t.Fatal("full before the first paper")
		}
		c, err := s.Counts(ctx)
		if err != nil || c.Papers != seed || c.Pages != 2*seed {
			t.Errorf("after the full disk: %+v %v, want %d papers", c, err, seed)
		}
		if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
			t.Errorf("faults %v %v", faults, err)
		}
		return
	}
	t.Fatal("the disk never filled")
}

func hexNoise(seed, n int) string {
	var b bytes.Buffer
	x := uint32(seed)*2654435761 + 1
	for b.Len() < n {
		x ^= x << 13
		x ^= x >> 17
		x ^= x << 5
		b.WriteByte(byte(33 + x%90))
	}
	return b.String()
}

func TestFullByPageLimit(t *testing.T) {
	s := open(t, t.TempDir())
	change(t, s, `PRAGMA max_page_count = 100`)
	fullDisk(t, s)
}

func TestReadOnlyByPermission(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser may write everywhere")
	}
	dir := t.TempDir()
	s := open(t, dir)
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	s.Close()
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	os.Chmod(filepath.Join(dir, disk.LockName), 0o444)
	os.Chmod(filepath.Join(dir, FileName), 0o444)
	s = open(t, dir)
	if _, err := s.Paper(ctx, p.Key); err != nil {
		t.Errorf("reading: %v", err)
	}
	p.Rules = "2"
	if _, err := s.Put(ctx, p, nil); !errors.Is(err, ErrReadOnly) {
		t.Errorf("writing: %v, want ErrReadOnly", err)
	}
}

func TestDamaged(t *testing.T) {
	for _, tt := range []struct {
		name   string
		damage func([]byte) []byte
	}{
		{"not a database", func([]byte) []byte { return bytes.Repeat([]byte("no database "), 500) }},
		{"cut short", func(b []byte) []byte { return b[:len(b)/3] }},
		{"a stretch of zeros", func(b []byte) []byte { clear(b[4096:20480]); return b }},
		{"noise in every page", func(b []byte) []byte {
			for i := 4096; i+64 < len(b); i += 1024 {
				copy(b[i:], hexNoise(i, 64))
			}
			return b
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			s := open(t, dir)
			for seed := range 20 {
				p, claims := sample(t, seed+1)
				store(t, s, p, claims)
			}
			s.Close()
			path := filepath.Join(dir, FileName)
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			b = tt.damage(b)
			if err := os.WriteFile(path, b, 0o666); err != nil {
				t.Fatal(err)
			}
			s, err = Open(dir)
			if err != nil {
				if !errors.Is(err, ErrDamaged) {
					t.Fatalf("error %v, want ErrDamaged", err)
				}
				after, _ := os.ReadFile(path)
				if !bytes.Equal(after, b) {
					t.Error("a library that was refused was written to")
				}
				return
			}
			defer s.Close()
			faults, err := s.Faults(ctx)
			if err != nil || len(faults) == 0 {
				t.Errorf("damage was not seen: %v %v", faults, err)
			}
		})
	}
}

func TestRefusesOtherForms(t *testing.T) {
	for _, tt := range []struct {
		name, sql string
		want      error
	}{
		{"newer", `PRAGMA user_version = 999`, ErrNewer},
		{"of another program", `PRAGMA application_id = 77`, ErrForeign},
	} {
		dir := t.TempDir()
		s := open(t, dir)
		change(t, s, tt.sql)
		s.Close()
		if _, err := Open(dir); !errors.Is(err, tt.want) {
			t.Errorf("%s: error %v, want %v", tt.name, err, tt.want)
		}
	}
}

func TestDirNames(t *testing.T) {
	for _, name := range []string{"with space", "quest?ion", "ha#sh", "per%20cent", "Käfer & Krebs;"} {
		dir := filepath.Join(t.TempDir(), name)
		s := open(t, dir)
		store(t, s, paper(1, textA), nil)
		s.Close()
		if !Exists(dir) {
			t.Errorf("%q: no library there", name)
		}
		if c, err := open(t, dir).Counts(ctx); c.Papers != 1 || err != nil {
			t.Errorf("%q: %+v %v", name, c, err)
		}
	}
}

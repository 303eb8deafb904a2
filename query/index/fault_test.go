package index

import (
	"bufio"
	"errors"
	"fmt"
	"iter"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// childDir and childDoes tell the test binary what to do as a child process.
const (
	childDir  = "HATCHLORE_TEST_INDEX_DIR"
	childDoes = "HATCHLORE_TEST_INDEX_DOES"
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(childDir); dir != "" {
		child(dir, os.Getenv(childDoes))
	}
	os.Exit(m.Run())
}

// child holds the index open until its input ends, or writes to it until it is
// killed.
func child(dir, does string) {
	fail := func(err error) {
		if err != nil {
			fmt.Println("error", err)
			os.Exit(1)
		}
	}
	open := Open
	if does == "read" {
		open = OpenToRead
	}
	ix, err := open(dir)
	fail(err)
	fmt.Println("open")
	for n := 0; does == "put"; n++ {
		fail(ix.Put(ctx, killPaper(n)))
		fail(ix.Flush(ctx))
		fmt.Println("put", n)
	}
	bufio.NewReader(os.Stdin).ReadByte()
	os.Exit(0)
}

// start runs a child until it has the index open. stop ends it.
func start(t *testing.T, dir, does string) (lines *bufio.Scanner, stop func()) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childDir+"="+dir, childDoes+"="+does)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := cmd.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	lines = bufio.NewScanner(out)
	if !lines.Scan() || lines.Text() != "open" {
		t.Fatalf("child: %s", lines.Text())
	}
	return lines, func() {
		cmd.Process.Kill()
		cmd.Wait()
	}
}

func made(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), DirName)
	ix, err := Rebuild(ctx, dir, seq(invented()...))
	if err != nil {
		t.Fatal(err)
	}
	if err := ix.Close(); err != nil {
		t.Fatal(err)
	}
	return dir
}

func seq(papers ...Paper) iter.Seq2[Paper, error] {
	return func(yield func(Paper, error) bool) {
		for _, p := range papers {
			if !yield(p, nil) {
				return
			}
		}
	}
}

func TestTwoProcesses(t *testing.T) {
	dir := made(t)
	toRead := func() (*Index, error) { return OpenToRead(dir) }
	toWrite := func() (*Index, error) { return open(dir, false, 50*time.Millisecond) }
	byTurns := func() (*Index, error) { return open(dir, true, 50*time.Millisecond) } // without copies
	for _, tt := range []struct {
		name, other string
		open        func() (*Index, error)
		refuse      bool
	}{
		{"two readers", "read", toRead, false},
		{"a writer beside a reader", "read", toWrite, false},
		{"a reader beside a writer", "write", toRead, false},
		{"two writers", "write", toWrite, true},
		{"a reader beside a writer, without copies", "write", byTurns, true},
	} {
		_, stop := start(t, dir, tt.other)
		ix, err := tt.open()
		stop()
		switch {
		case tt.refuse && !errors.Is(err, ErrInUse):
			t.Errorf("%s: error %v, want ErrInUse", tt.name, err)
		case !tt.refuse && err != nil:
			t.Errorf("%s: %v", tt.name, err)
		}
		if ix != nil {
			if got := ask(t, ix, Query{Words: "frozen"}); !slices.Equal(got, []string{"en#2"}) {
				t.Errorf("found %v", got)
			}
			ix.Close()
		}
	}
}

func TestNeedsRebuild(t *testing.T) {
	segments := func(dir string) []string {
		list, err := filepath.Glob(filepath.Join(dir, "store", "*.zap"))
		if err != nil || len(list) == 0 {
			t.Fatalf("no segments in %s: %v", dir, err)
		}
		return list
	}
	write := func(path string, b []byte) {
		if err := os.WriteFile(path, b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	root := func(dir string) string { return filepath.Join(dir, "store", "root.bolt") }
	for _, tt := range []struct {
		name   string
		damage func(dir string)
		want   error
	}{
		{"no folder", func(dir string) { os.RemoveAll(dir) }, ErrMissing},
		{"empty folder", func(dir string) { os.RemoveAll(dir); os.Mkdir(dir, 0o777) }, ErrMissing},
		{"description is noise", func(dir string) { write(filepath.Join(dir, "index_meta.json"), []byte("{")) }, ErrDamaged},
		{"root is empty", func(dir string) { write(root(dir), nil) }, ErrDamaged},
		{"root is noise", func(dir string) { write(root(dir), []byte(strings.Repeat("noise ", 9999))) }, ErrDamaged},
		{"root is cut short", func(dir string) { os.Truncate(root(dir), 9000) }, ErrDamaged},
		{"a segment is missing", func(dir string) { os.Remove(segments(dir)[0]) }, ErrDamaged},
		{"a segment is empty", func(dir string) { write(segments(dir)[0], nil) }, ErrDamaged},
		{"a segment is cut short", func(dir string) { os.Truncate(segments(dir)[0], 700) }, ErrDamaged},
		{"a segment is noise", func(dir string) { write(segments(dir)[0], []byte(strings.Repeat("noise ", 999))) }, ErrDamaged},
		{"another form", func(dir string) {
			ix, err := Open(dir)
			if err != nil {
				t.Fatal(err)
			}
			ix.bleve.SetInternal(formKey, []byte("0"))
			ix.Close()
		}, ErrOutdated},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var dir string
			for _, open := range []func(string) (*Index, error){OpenToRead, Open} {
				dir = made(t)
				if err := os.RemoveAll(filepath.Join(dir, copiesName)); err != nil {
					t.Fatal(err) // a reader would be served by the copy
				}
				tt.damage(dir)
				if _, err := open(dir); !errors.Is(err, tt.want) || !NeedsRebuild(err) {
					t.Errorf("error %v, want %v", err, tt.want)
				}
			}
			ix, err := Rebuild(ctx, dir, seq(invented()...))
			if err != nil {
				t.Fatal(err)
			}
			defer ix.Close()
			if got := ask(t, ix, Query{Words: "frozen"}); !slices.Equal(got, []string{"en#2"}) {
				t.Errorf("after making it anew: %v", got)
			}
		})
	}
}

// A failed rebuilding leaves the old index.
func TestRebuildFails(t *testing.T) {
	dir := made(t)
	broken := errors.New("the store broke")
	_, err := Rebuild(ctx, dir, func(yield func(Paper, error) bool) {
		yield(invented()[1], nil)
		yield(Paper{}, broken)
	})
	if !errors.Is(err, broken) {
		t.Errorf("error %v", err)
	}
	ix, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer ix.Close()
	if got := ask(t, ix, Query{Words: "frozen"}); !slices.Equal(got, []string{"en#2"}) {
		t.Errorf("found %v", got)
	}
	if _, err := os.Stat(dir + ".new"); err == nil {
		t.Error("a half-made index was left")
	}
}

func killPaper(n int) Paper {
	p := Paper{Key: fmt.Sprintf("k%d", n), Stamp: "s", Lang: "en"}
	for i := range 1 + n%7 {
		p.Pages = append(p.Pages, results(i+1, fmt.Sprintf("Page %d of invented paper number%d.", i+1, n)))
	}
	return p
}

func TestKill(t *testing.T) {
	kills := 8
	if testing.Short() {
		kills = 2
	}
	dir := filepath.Join(t.TempDir(), DirName)
	ix, err := Create(dir)
	if err != nil {
		t.Fatal(err)
	}
	ix.Close()
	for kill := range kills {
		lines, stop := start(t, dir, "put")
		time.AfterFunc(time.Duration(20+kill*37%150)*time.Millisecond, stop)
		said := -1
		for lines.Scan() {
			if strings.HasPrefix(lines.Text(), "error") {
				t.Fatal(lines.Text())
			}
			fmt.Sscanf(lines.Text(), "put %d", &said)
		}
		if ix, err = Open(dir); err != nil {
			t.Fatalf("kill %d: %v", kill, err)
		}
		for n := range said + 1 {
			want := killPaper(n)
			if stamp, ok, err := ix.Stamp(want.Key); stamp != "s" || !ok || err != nil {
				t.Fatalf("kill %d: %s was said to be in: %q %v %v", kill, want.Key, stamp, ok, err)
			}
			if got := ask(t, ix, Query{Words: fmt.Sprintf("number%d", n)}); len(got) != len(want.Pages) {
				t.Fatalf("kill %d: %v for %s of %d pages", kill, got, want.Key, len(want.Pages))
			}
		}
		ix.Close()
	}
}

func TestFaultsAndFlippedBits(t *testing.T) {
	dir := made(t)
	if faults, err := Faults(ctx, dir); len(faults) > 0 || err != nil {
		t.Fatalf("a sound index: %v %v", faults, err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "store", "*.zap"))
	if err != nil || len(files) == 0 {
		t.Fatal("no segments")
	}
	whole, err := os.ReadFile(files[0])
	if err != nil {
		t.Fatal(err)
	}
	// Wherever a bit flips, the check sees it, and no search takes the program
	// down, whatever it finds.
	for at := 0; at < len(whole)-8; at += 1 + len(whole)/150 {
		b := slices.Clone(whole)
		b[at] ^= 0x55
		// A new file, for the old one may still be mapped.
		if err := os.Remove(files[0]); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(files[0], b, 0o666); err != nil {
			t.Fatal(err)
		}
		if faults, err := Faults(ctx, dir); len(faults) != 1 || err != nil {
			t.Fatalf("byte %d: faults %v %v", at, faults, err)
		}
		ix, err := OpenToRead(dir)
		if err != nil {
			if !NeedsRebuild(err) {
				t.Errorf("byte %d: %v", at, err)
			}
			continue
		}
		for _, words := range []string{"hatch", `"cold period"`, "Branchinella -frozen"} {
			ix.Search(ctx, Query{Words: words})
		}
		ix.Close()
	}
}

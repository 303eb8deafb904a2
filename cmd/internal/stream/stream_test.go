package stream

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What cannot be written whole leaves what was there before, and nothing beside it.
func TestWriteWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "sheet.csv")
	write := func(text string, err error) error {
		return Write(io.Discard, name, func(w io.Writer) error {
			if _, e := io.WriteString(w, text); e != nil {
				return e
			}
			return err
		})
	}
	if err := write("first", nil); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("no more of it")
	if err := write("sec", broken); !errors.Is(err, broken) || !strings.HasPrefix(err.Error(), name) {
		t.Errorf("the error is %v", err)
	}
	data, err := os.ReadFile(name)
	if err != nil || string(data) != "first" {
		t.Errorf("the file holds %q, %v", data, err)
	}
	there, err := os.ReadDir(dir)
	if err != nil || len(there) != 1 {
		t.Errorf("%v %v stand in the folder", there, err)
	}
}

// What is no ordinary file stays what it is; a link stays one, and a file keeps
// who may read it.
func TestWriteKeepsWhatItIs(t *testing.T) {
	dir := t.TempDir()
	file, link := filepath.Join(dir, "file"), filepath.Join(dir, "link")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(file, link); err != nil {
		t.Skipf("skipped: no links can be made here: %v", err)
	}
	write := func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err }
	if err := Write(nil, link, write); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode().Type() != fs.ModeSymlink {
		t.Errorf("the link is %v, %v", info, err)
	}
	data, err := os.ReadFile(file)
	if err != nil || string(data) != "x" {
		t.Errorf("behind the link stands %q, %v", data, err)
	}
	if info, err := os.Stat(file); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file is %v, %v", info, err)
	}
	from, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer from.Close()
	pipe := fmt.Sprintf("/dev/fd/%d", to.Fd())
	if _, err := os.Stat(pipe); err != nil {
		t.Skipf("skipped: pipes have no names here: %v", err)
	}
	if err := errors.Join(Write(nil, pipe, write), to.Close()); err != nil {
		t.Fatal(err)
	}
	if data, err := io.ReadAll(from); err != nil || string(data) != "x" {
		t.Errorf("the pipe has %q, %v", data, err)
	}
}

func TestStandardStreams(t *testing.T) {
	for _, name := range []string{"", "-"} {
		var out strings.Builder
		if err := Write(&out, name, func(w io.Writer) error { _, err := io.WriteString(w, "x"); return err }); err != nil || out.String() != "x" {
			t.Errorf("%q: %q, %v", name, out.String(), err)
		}
	}
	var got string
	err := Read(strings.NewReader("in"), "-", func(r io.Reader) error {
		data, err := io.ReadAll(r)
		got = string(data)
		return err
	})
	if err != nil || got != "in" {
		t.Errorf("%q, %v", got, err)
	}
}

// A file without end is left, with its name.
func TestTooLarge(t *testing.T) {
	file := filepath.Join(t.TempDir(), "endless")
	if err := os.WriteFile(file, make([]byte, most+1), 0o600); err != nil {
		t.Fatal(err)
	}
	drain := func(r io.Reader) error { _, err := io.Copy(io.Discard, r); return err }
	if err := Read(nil, file, drain); !errors.Is(err, errTooLarge) || !strings.HasPrefix(err.Error(), file) {
		t.Errorf("%v", err)
	}
}

func TestFaults(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	nothing := func(io.Reader) error { return nil }
	gone := filepath.Join(dir, "gone")
	for _, c := range []struct {
		err    error
		begins string
	}{
		{Read(nil, gone, nothing), gone + " cannot be read: "},
		{Write(nil, filepath.Join(gone, "x"), nil), filepath.Join(gone, "x") + " cannot be written: "},
		{Folder(file), file + " is a file: name a folder"},
		{Folder(filepath.Join(file, "x")), filepath.Join(file, "x") + " cannot be made: "},
	} {
		if c.err == nil || !strings.HasPrefix(c.err.Error(), c.begins) || strings.Count(c.err.Error(), filepath.Base(dir)) != 1 {
			t.Errorf("got %v, want the name once and %q", c.err, c.begins)
		}
	}
	if err := Folder(filepath.Join(dir, "a", "b")); err != nil {
		t.Error(err)
	}
}

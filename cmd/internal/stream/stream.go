// Package stream opens what a keeper names on the command line to read from or
// to write to: a file, "-" for a standard stream, a folder.
//
// It refuses to leave half a file: what cannot be written whole leaves what was
// there before. Its errors begin with the name.
package stream

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// most is more bytes than a sheet of counts or a plan has: 500 dishes looked at
// every day of a year.
const most = 16 << 20

// errTooLarge stops the reading of a file that is none of ours.
var errTooLarge = fmt.Errorf("it has more than %d MB, too many for a sheet or a plan: name another file, or a part of it", most>>20)

// bounded is a reader that fails where there is more than it may read.
type bounded struct {
	from io.Reader
	left int
}

func (b *bounded) Read(p []byte) (int, error) {
	if b.left <= 0 {
		return 0, errTooLarge
	}
	n, err := b.from.Read(p[:min(len(p), b.left)])
	b.left -= n
	return n, err
}

// Read hands a file to use, or stdin for "-". Errors name the file.
func Read(stdin io.Reader, name string, use func(io.Reader) error) error {
	if name == "-" {
		return use(&bounded{stdin, most})
	}
	if isFolder(name) {
		return fmt.Errorf("%s is a folder: name a file", name)
	}
	f, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("%s cannot be read: %w", name, Cause(err))
	}
	defer f.Close()
	if err := use(&bounded{f, most}); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// Write writes a file whole or not at all, or stdout for "" and "-". A device or a
// pipe is written to as it stands, and a link leads to the file behind it.
func Write(stdout io.Writer, name string, use func(io.Writer) error) error {
	if name == "" || name == "-" {
		return use(stdout)
	}
	if isFolder(name) {
		return fmt.Errorf("%s is a folder: name a file", name)
	}
	write := writeWhole
	info, err := os.Stat(name)
	if err == nil && !info.Mode().IsRegular() {
		write = writeThrough
	}
	if err := write(name, use); err != nil {
		return fmt.Errorf("%s cannot be written: %w", name, Cause(err))
	}
	return nil
}

// writeWhole writes a file beside the one named and puts it in its place.
func writeWhole(name string, use func(io.Writer) error) error {
	mode := fs.FileMode(0o644)
	if to, err := filepath.EvalSymlinks(name); err == nil {
		name = to
		if info, err := os.Stat(name); err == nil {
			mode = info.Mode().Perm()
		}
	}
	f, err := os.CreateTemp(filepath.Dir(name), ".hatchlore-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name()) // fails when all went well: the file has its name then
	if err := errors.Join(use(f), f.Chmod(mode), f.Close()); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

func writeThrough(name string, use func(io.Writer) error) error {
	f, err := os.OpenFile(name, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(use(f), f.Close())
}

func isFolder(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// Folder makes a folder to write to where there is none.
func Folder(dir string) error {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return fmt.Errorf("%s is a file: name a folder", dir)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("%s cannot be made: %w", dir, Cause(err))
	}
	return nil
}

// Cause is what the system said of a file, without the file's name.
func Cause(err error) error {
	var path *fs.PathError
	if errors.As(err, &path) {
		return path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		return link.Err
	}
	return err
}

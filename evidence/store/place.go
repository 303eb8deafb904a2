package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// What File says of a file that is not found as it was read. Its text and
// claims are kept.
var (
	ErrMoved   = errors.New("is no longer where it was; put it back, or ingest it from where it is now")
	ErrChanged = errors.New("has changed since it was read; ingest it again")
)

// MovedError is [ErrMoved] with the path at which the file was looked for first.
type MovedError struct{ Path string }

func (e *MovedError) Error() string { return e.Path + " " + ErrMoved.Error() }

// Unwrap returns [ErrMoved].
func (e *MovedError) Unwrap() error { return ErrMoved }

// keepPlace notes where the file of a paper is. A place that cannot be told
// from the root, because the working folder is gone, is not noted.
func (s *Store) keepPlace(ctx context.Context, tx *sql.Tx, hash, file string) error {
	path, near, ok := s.place(file)
	if !ok {
		return nil
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO places (hash, path, near) VALUES (?, ?, ?)
		ON CONFLICT (hash) DO UPDATE SET path = excluded.path, near = excluded.near`, hash, path, near)
	return err
}

// place tells a file's place from the root and from the library's folder, ""
// where no way leads from there, such as to another drive.
func (s *Store) place(file string) (path, near string, ok bool) {
	path, err := filepath.Abs(file)
	if err != nil {
		return "", "", false
	}
	if dir, err := filepath.Abs(s.Dir()); err == nil {
		if way, err := filepath.Rel(dir, path); err == nil {
			near = filepath.ToSlash(way)
		}
	}
	return path, near, true
}

// notedPlace returns what keepPlace noted, "" for nothing.
func (s *Store) notedPlace(ctx context.Context, hash string) (path, near string, err error) {
	err = s.file.Read().QueryRowContext(ctx, `SELECT path, near FROM places WHERE hash = ?`, hash).Scan(&path, &near)
	if errors.Is(err, sql.ErrNoRows) {
		return "", "", nil
	}
	return path, near, explain(err)
}

// FoundAt notes that the file with the given content is at a path now, unless
// it also is where it was: then the other is a copy.
func (s *Store) FoundAt(ctx context.Context, hash, file string) error {
	path, near, ok := s.place(file)
	was, wasNear, err := s.notedPlace(ctx, hash)
	if err != nil || !ok || was == path && wasNear == near {
		return err
	}
	if was != "" && was != path {
		if same, err := holds(was, hash); err == nil && same {
			return nil
		}
	}
	return s.file.Change(ctx, "ingest", func(tx *sql.Tx) error { return s.keepPlace(ctx, tx, hash, file) })
}

// File finds the file of a paper by its content. Errors: [ErrMoved] and
// [ErrChanged], with the path, and what the file system says of a file that
// cannot be read.
func (s *Store) File(ctx context.Context, paper Listing) (string, error) {
	places, err := s.places(ctx, paper)
	if err != nil {
		return "", err
	}
	var other error
	for _, at := range places {
		same, err := holds(at, paper.Hash)
		switch {
		case same:
			return at, nil
		case errors.Is(err, os.ErrNotExist):
			continue
		case err == nil:
			err = fmt.Errorf("%s %w", at, ErrChanged)
		default:
			err = fmt.Errorf("%s cannot be read: %s", at, withoutPath(err))
		}
		if other == nil {
			other = err
		}
	}
	if other == nil {
		other = &MovedError{places[0]}
	}
	return "", other
}

// places are the paths at which the file of a paper may be, the likeliest
// first: where it was last ingested, also where the library has moved since; as
// the keeper gave it; in the library's own folder of papers; and, of a library
// that was made before places were noted, from its folder and those above it.
func (s *Store) places(ctx context.Context, paper Listing) ([]string, error) {
	dir, err := filepath.Abs(s.Dir())
	if err != nil {
		dir = s.Dir()
	}
	path, near, err := s.notedPlace(ctx, paper.Hash)
	if err != nil {
		return nil, err
	}
	var out []string
	if path != "" {
		out = append(out, path)
	}
	if near != "" {
		out = append(out, filepath.Join(dir, filepath.FromSlash(near)))
	}
	out = append(out, paper.Source, filepath.Join(dir, PaperFolder, filepath.Base(paper.Source)))
	if path == "" && !filepath.IsAbs(paper.Source) {
		for up := dir; ; up = filepath.Dir(up) {
			out = append(out, filepath.Join(up, paper.Source))
			if up == filepath.Dir(up) {
				break
			}
		}
	}
	return unique(out), nil
}

// PaperFolder is the folder of a library for papers that came without a place
// of their own.
const PaperFolder = "papers"

func unique(paths []string) []string {
	var out []string
	for _, p := range paths {
		if !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

// holds reports whether the ordinary file at path has the content.
func holds(path, hash string) (bool, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return false, err
	case !info.Mode().IsRegular():
		return false, fmt.Errorf("%s: %w", path, os.ErrNotExist)
	}
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return false, err
	}
	return hex.EncodeToString(h.Sum(nil)) == hash, nil
}

// withoutPath is what the system says of a file, for a sentence that names the
// file itself.
func withoutPath(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

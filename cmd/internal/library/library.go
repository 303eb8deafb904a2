// Package library wires one library together: a paper's whole path from file
// to claims, store and index stands in add.go.
//
// It refuses to decide anything by itself: what a page says, what a claim is
// and how it is kept belong to the packages below.
package library

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"hatchlore/cmd/internal/stream"
	"hatchlore/evidence/store"
	"hatchlore/query"
	"hatchlore/query/index"
)

// Library is an open library.
type Library struct {
	dir   string
	store *store.Store

	gate    sync.Mutex   // held to search, and to open or close the index while others may search
	index   *index.Index // nil until it is needed
	behind  int          // papers that searches do not see as they are now
	checked time.Time    // when that was counted
}

// ErrNone says that there is no library yet.
var ErrNone = errors.New("there is no library yet: 'hatchlore ingest FOLDER' makes one")

// Open opens the library in dir; with create set it makes one where there is
// none.
func Open(dir string, create bool) (*Library, error) {
	info, err := os.Stat(dir)
	if err == nil && info.IsDir() {
		_, err = os.Stat(dir + string(filepath.Separator) + ".") // which a locked folder does not tell
	}
	switch {
	case errors.Is(err, fs.ErrPermission):
		return nil, fmt.Errorf("%s may not be read by you: make it readable or choose another folder with --library", dir)
	case err == nil && !info.IsDir():
		return nil, fmt.Errorf("%s is a file: the library is a folder, which --library names", dir)
	case !create && !store.Exists(dir):
		return nil, fmt.Errorf("in %s %w", dir, ErrNone)
	case create:
		if err := stream.Folder(dir); err != nil {
			return nil, fmt.Errorf("%w; --library names another folder", err)
		}
	}
	s, err := store.Open(dir)
	if err != nil {
		return nil, err
	}
	return &Library{dir: dir, store: s}, nil
}

// Close lets go of the library.
func (l *Library) Close() error {
	return errors.Join(l.closeIndex(), l.store.Close())
}

// Store returns the library's papers, claims and decisions.
func (l *Library) Store() *store.Store { return l.store }

// Answers returns what answers questions about claims and papers. For
// searches see [Library.Searching].
func (l *Library) Answers() *query.Engine { return query.New(l.store, nil) }

// Papers lists the papers, by key.
func (l *Library) Papers(ctx context.Context) ([]store.Listing, error) {
	var out []store.Listing
	for p, err := range l.store.Papers(ctx) {
		if err != nil {
			return nil, err
		}
		out = append(out, p)
	}
	return out, nil
}

func (l *Library) indexPath() string { return filepath.Join(l.dir, index.DirName) }

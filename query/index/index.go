// Package index finds pages by their words. Each page of the library is one
// document: its text in three parts (methods, results and abstract; the rest;
// the reference list), the paper's title, authors and year, and the full names of the
// animals that the page names and that its claims are about. Words are stemmed in the
// language of the paper and accents folded.
//
// A name finds the animal, not the word: a genus finds its species, a species
// its abbreviated form where the page means that species by it, an abbreviated
// name every species that it may stand for.
//
// Package question has what a keeper may type, needle what is looked for then, naming
// the forms of names and book those in the index, stem the words of each language,
// match the searchers beside the engine's own, and passage what is shown of a page.
//
// It refuses to be the only copy of anything: the index can be thrown away and
// made anew from the store, and says so with a typed error when it is missing,
// damaged or of another form. It knows no synonyms; the caller tells the other
// names of an animal.
package index

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"time"

	"github.com/blevesearch/bleve/v2"
	blevemapping "github.com/blevesearch/bleve/v2/mapping"
	bleveindex "github.com/blevesearch/bleve_index_api"
	bolterrors "go.etcd.io/bbolt/errors"

	"hatchlore/query/index/stem"
)

// DirName is the index's name in the library folder.
const DirName = "index"

// form is the number of the present shape of the documents and their analysis.
// Change it with either, so that older indexes are made anew.
const form = "4"

const lockWait = 3 * time.Second

var formKey = []byte("form")

// The faults a caller may want to tell apart. For the first three
// [NeedsRebuild] holds.
var (
	ErrMissing  = errors.New("there is no search index: 'hatchlore check --rebuild' makes it from the library")
	ErrDamaged  = errors.New("the search index is damaged: 'hatchlore check --rebuild' makes it anew from the library")
	ErrOutdated = errors.New("the search index is of another version of this program: 'hatchlore check --rebuild' makes it anew")
	ErrInUse    = errors.New("another process is writing to the search index: try again when it has finished")
	ErrFull     = errors.New("the disk is full: free some space, then 'hatchlore check' mends the search index")
	ErrReadOnly = errors.New("the search index cannot be written: make its folder writable")
	ErrClosed   = errors.New("the search index has been closed")
)

// NeedsRebuild reports whether err says that the index has to be made anew.
func NeedsRebuild(err error) bool {
	return errors.Is(err, ErrMissing) || errors.Is(err, ErrDamaged) || errors.Is(err, ErrOutdated)
}

// Index is an open index. Its methods may be called from several goroutines.
type Index struct {
	dir      string
	readOnly bool
	bleve    bleve.Index
	langs    stem.Languages
	of       string      // of a copy: the folder of the index that it was made of
	folder   fs.FileInfo // of dir, as it was when opened
	broken   chan error  // holds why the engine stopped working, once it did

	life   sync.RWMutex // held to read by whoever asks the engine, to write while it is closed
	closed bool

	mu        sync.Mutex // guards what follows; taken before life
	batch     int        // pages that are written together
	waited    int        // pages in waiting
	bytes     int        // text in waiting
	queue     []Paper
	published time.Time     // when the last copy for readers was made
	copying   time.Duration // how long that took
	failed    bool          // a write did not succeed
}

// tierSegments is how many parts of about one size the engine lets stand before it
// merges them. A question asks every part: over 20,000 pages it takes 4.8 ms where
// there may be 4, and 5.3 ms with the engine's own 10; with 3 it is no faster.
const tierSegments = 4

// Open opens the index in dir to read and write. One process may have it open
// so: another gets [ErrInUse] after a short wait. Those who read are not in the
// way.
func Open(dir string) (*Index, error) { return open(dir, false, lockWait) }

// OpenToRead opens the index in dir for searching, as it was when the writer
// last made a copy for readers: at the latest some seconds ago, or when it was
// last closed. Any number of processes may have it open so. [Index.Stale] tells
// when it is time to open it again.
//
// Where the file system makes no copies, the index itself is opened, and a
// writer has to wait until it is closed.
func OpenToRead(dir string) (*Index, error) {
	if ix, err := openCopy(dir); err == nil || !NeedsRebuild(err) {
		return ix, err
	}
	return open(dir, true, lockWait)
}

func open(dir string, readOnly bool, wait time.Duration) (*Index, error) {
	if _, err := os.Stat(filepath.Join(dir, "index_meta.json")); errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("opening %s: %w", dir, ErrMissing)
	}
	ix := &Index{dir: dir, readOnly: readOnly, langs: stem.New(), batch: firstBatch, broken: make(chan error, 1)}
	err := guard(func() error {
		var err error
		if ix.folder, err = os.Stat(dir); err != nil {
			return err
		}
		said, err := ix.start(map[string]any{"bolt_timeout": wait.String(), "read_only": readOnly, "scorchMergePlanOptions": map[string]any{"maxSegmentsPerTier": tierSegments}})
		if err != nil {
			return opening(err)
		}
		if said != "" {
			// The engine passed over what it could not load and took an older
			// state, or none.
			ix.bleve.Close()
			return fmt.Errorf("%w (%s)", ErrDamaged, said)
		}
		got, err := ix.bleve.GetInternal(formKey)
		if err == nil && string(got) != form {
			err = ErrOutdated
		}
		if err != nil {
			ix.bleve.Close()
		}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("opening %s: %w", dir, err)
	}
	return ix, nil
}

// Create makes an empty index in dir, in place of what is there. The caller
// sees to it that no other process does the same.
func Create(dir string) (*Index, error) {
	if err := os.RemoveAll(dir); err != nil {
		return nil, fmt.Errorf("making %s: %w", dir, explain(err))
	}
	err := guard(func() error {
		m := blevemapping.NewIndexMapping()
		m.ScoringModel = bleveindex.BM25Scoring
		empty, err := bleve.NewUsing(dir, m, bleve.Config.DefaultIndexType, bleve.Config.DefaultKVStore, nil)
		if err != nil {
			return err
		}
		return errors.Join(empty.SetInternal(formKey, []byte(form)), empty.Close())
	})
	if err != nil {
		return nil, fmt.Errorf("making %s: %w", dir, explain(err))
	}
	return open(dir, false, lockWait)
}

// Close writes what waits, shows it to readers and lets go of the index, when
// the searches under way have ended. What is asked afterwards gets [ErrClosed].
func (ix *Index) Close() error {
	ix.mu.Lock()
	defer ix.mu.Unlock()
	if ix.closed {
		return nil
	}
	err := ix.flush(context.Background())
	if err == nil && !ix.readOnly {
		ix.show()
	}
	ix.life.Lock()
	defer ix.life.Unlock()
	ix.closed = true
	return errors.Join(err, ix.stop())
}

// opening explains why an index that is there does not open. What is no lock,
// permission or space is damage.
func opening(err error) error {
	if e := explain(err); e != err {
		return e
	}
	return fmt.Errorf("%w (%w)", ErrDamaged, err)
}

// explain turns the errors of the engine and the file system that a keeper can
// do something about into this package's; others pass unchanged.
func explain(err error) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, bolterrors.ErrTimeout):
		return ErrInUse
	case is(err, syscall.ENOSPC), is(err, syscall.EDQUOT):
		return fmt.Errorf("%w (%w)", ErrFull, err)
	case errors.Is(err, fs.ErrPermission), errors.Is(err, syscall.EROFS):
		return fmt.Errorf("%w (%w)", ErrReadOnly, err)
	}
	return err
}

// is looks for code in err's chain and, since the engine's writer breaks the
// chain, in its text.
func is(err error, code syscall.Errno) bool {
	return errors.Is(err, code) || strings.Contains(err.Error(), code.Error())
}

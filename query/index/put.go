package index

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/document"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"hatchlore/ingest"
	"hatchlore/query/index/stem"
)

// Paper is what the index knows of a paper.
type Paper struct {
	Key     string
	Stamp   string // the reading that is indexed; see [Index.Stamp]
	Title   string
	Authors []string
	Year    int    // 0 when unknown
	Lang    string // ISO 639-1, "" when unsure
	Pages   []Page
}

// Page is a page with what its claims speak of.
type Page struct {
	ingest.Page
	Names   []Name   // of animals, as far as the paper tells whose they are
	Taxa    []string // that its claims are about, written out
	Factors []string
}

// Name is a place on a page that names an animal, in whatever form.
type Name struct {
	Full  string // written out
	Start int    // byte of the page's text
}

// The fields of a document. The first three hold its text.
const (
	fieldCore    = "core" // abstract, methods, results
	fieldRest    = "rest" // other sections, and text outside any
	fieldRefs    = "refs" // the reference list
	fieldTitle   = "title"
	fieldBy      = "by" // the paper's authors and year, as a citation has them
	fieldTaxa    = "taxa"
	fieldName    = "name"  // see naming.Terms; with "." and a text field behind it, the names there
	fieldTold    = "told"  // names outside the reference list
	fieldOften   = "often" // of these, those that come again and again
	fieldPaper   = "paper"
	fieldLang    = "lang"
	fieldYear    = "year"
	fieldFactor  = "factor"
	fieldSection = "section"
	fieldText    = "text"   // stored: the page's text
	fieldLayout  = "layout" // stored: its sections, see passage.Part
)

// A batch is written when it has this many pages or bytes of text: enough to
// spread the cost of a write, little enough to bound memory. The first is
// small and each may be twice the one before, so that the index of a few papers
// is written while others are being read, not all of it at the end.
const (
	firstBatch = 50
	batchPages = 400
	batchBytes = 4 << 20
)

// Put takes papers in, in place of what the index had of them. They are
// written in batches: a search sees them after [Index.Flush] or [Index.Close],
// and a process killed before that leaves them out, which their stamps show.
func (ix *Index) Put(ctx context.Context, papers ...Paper) error {
	ix.mu.Lock()
	defer ix.mu.Unlock()
	if ix.closed {
		return ErrClosed
	}
	for _, p := range papers {
		ix.queue = slices.DeleteFunc(ix.queue, func(q Paper) bool { return q.Key == p.Key })
		ix.queue = append(ix.queue, p)
		ix.waited += len(p.Pages)
		for _, page := range p.Pages {
			ix.bytes += len(page.Text)
		}
		if ix.waited >= ix.batch || ix.bytes >= batchBytes {
			ix.batch = min(2*ix.batch, batchPages)
			if err := ix.flush(ctx); err != nil {
				return err
			}
		}
	}
	return nil
}

// Flush writes what waits.
func (ix *Index) Flush(ctx context.Context) error {
	ix.mu.Lock()
	defer ix.mu.Unlock()
	return ix.flush(ctx)
}

func (ix *Index) flush(ctx context.Context) error {
	if ix.closed {
		return ErrClosed
	}
	queue := ix.queue
	ix.queue, ix.waited, ix.bytes = nil, 0, 0
	if len(queue) == 0 {
		return nil
	}
	w := writer{ix: ix, batch: ix.bleve.NewBatch()}
	for _, p := range queue {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := w.put(p); err != nil {
			return fmt.Errorf("indexing %s: %w", p.Key, explain(err))
		}
	}
	if err := w.write(); err != nil {
		return fmt.Errorf("writing the search index: %w", explain(err))
	}
	if ix.due() {
		ix.show()
	}
	return nil
}

// writer fills and writes batches. A paper that does not fit into one has no
// stamp until its last batch, so that a half-written one is known as such.
type writer struct {
	ix    *Index
	batch *bleve.Batch
	pages int
	bytes int
}

func (w *writer) put(p Paper) error {
	if err := w.forget(p.Key); err != nil {
		return err
	}
	seen := map[int]bool{}
	for _, page := range p.Pages {
		if seen[page.Number] {
			return fmt.Errorf("page %d comes twice", page.Number)
		}
		seen[page.Number] = true
		if err := w.batch.IndexAdvanced(w.ix.document(p, page)); err != nil {
			return err
		}
		w.pages++
		w.bytes += len(page.Text)
		if w.pages >= batchPages || w.bytes >= batchBytes {
			// The stamp comes last, over all pages written so far.
			w.batch.SetInternal(paperKey(p.Key), mark{Last: lastPage(p.Pages)}.bytes())
			if err := w.write(); err != nil {
				return err
			}
		}
	}
	w.batch.SetInternal(paperKey(p.Key), mark{Stamp: p.Stamp, Last: lastPage(p.Pages), Whole: true}.bytes())
	return nil
}

func lastPage(pages []Page) int {
	last := 0
	for _, p := range pages {
		last = max(last, p.Number)
	}
	return last
}

// forget takes a paper's pages out.
func (w *writer) forget(key string) error {
	m, ok, err := w.ix.mark(key)
	if err != nil || !ok {
		return err
	}
	for n := 1; n <= m.Last; n++ {
		w.batch.Delete(docID(key, n))
	}
	w.batch.DeleteInternal(paperKey(key))
	return nil
}

func (w *writer) write() error {
	batch := w.batch
	err := w.ix.await(func() error { return w.ix.bleve.Batch(batch) })
	w.ix.failed = w.ix.failed || err != nil
	w.batch = w.ix.bleve.NewBatch() // the engine still reads the old one
	w.pages, w.bytes = 0, 0
	return err
}

// mark is what the index notes about a paper.
type mark struct {
	Stamp string `json:"s"`
	Last  int    `json:"n"` // highest page number written
	Whole bool   `json:"w"`
}

func (m mark) bytes() []byte {
	b, _ := json.Marshal(m) // strings and numbers always marshal
	return b
}

func paperKey(key string) []byte { return []byte("paper/" + key) }

func docID(key string, page int) string { return key + "#" + strconv.Itoa(page) }

func (ix *Index) mark(key string) (m mark, ok bool, err error) {
	b, err := ix.bleve.GetInternal(paperKey(key))
	if err != nil || len(b) == 0 {
		return mark{}, false, err
	}
	if err := json.Unmarshal(b, &m); err != nil {
		return mark{}, false, fmt.Errorf("%w (note on %s: %w)", ErrDamaged, key, err)
	}
	return m, true, nil
}

// Stamp returns the stamp that the paper was put in with; ok is false when the
// index does not hold the paper, or not whole.
func (ix *Index) Stamp(key string) (stamp string, ok bool, err error) {
	var m mark
	err = ix.ask(func() (err error) {
		m, ok, err = ix.mark(key)
		return err
	})
	return m.Stamp, ok && m.Whole, err
}

// Keys returns the papers that the index holds pages of, in order.
func (ix *Index) Keys() ([]string, error) {
	var out []string
	err := ix.ask(func() error {
		keys, err := ix.terms(fieldPaper)
		if err != nil {
			return err
		}
		for _, key := range keys {
			// The dictionary keeps removed papers until segments are merged.
			if _, ok, err := ix.mark(key); err != nil {
				return err
			} else if ok {
				out = append(out, key)
			}
		}
		return nil
	})
	return out, err
}

// Pages returns how many pages the index holds.
func (ix *Index) Pages() (int, error) {
	var n uint64
	err := ix.ask(func() (err error) {
		n, err = ix.bleve.DocCount()
		return err
	})
	return int(n), err
}

// Remove takes a paper out of the index.
func (ix *Index) Remove(ctx context.Context, key string) error {
	ix.mu.Lock()
	defer ix.mu.Unlock()
	if err := ix.flush(ctx); err != nil {
		return err
	}
	w := writer{ix: ix, batch: ix.bleve.NewBatch()}
	if err := w.forget(key); err != nil {
		return err
	}
	if err := w.write(); err != nil {
		return fmt.Errorf("removing %s from the search index: %w", key, explain(err))
	}
	return nil
}

// Rebuild makes the index in dir anew from papers and puts it in place of the
// old one when it is whole; until then, and after an error, the old one is
// there. The caller sees to it that no other process does the same and that
// dir is not open.
func Rebuild(ctx context.Context, dir string, papers iter.Seq2[Paper, error]) (*Index, error) {
	fresh := dir + ".new"
	ix, err := Create(fresh)
	if err != nil {
		return nil, err
	}
	for p, err := range papers {
		if err == nil {
			err = ix.Put(ctx, p)
		}
		if err != nil {
			ix.queue = nil
			ix.Close()
			os.RemoveAll(fresh)
			return nil, fmt.Errorf("making the search index: %w", err)
		}
	}
	if err := ix.Close(); err != nil {
		os.RemoveAll(fresh)
		return nil, err
	}
	if err := replace(dir, fresh); err != nil {
		return nil, fmt.Errorf("making the search index: %w", explain(err))
	}
	return Open(dir)
}

// replace puts fresh in dir's place, which is empty for as short as can be: a
// reader may be about to open it.
func replace(dir, fresh string) error {
	old := dir + ".old"
	if err := os.RemoveAll(old); err != nil {
		return err
	}
	if err := os.Rename(dir, old); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := os.Rename(fresh, dir); err != nil {
		return err
	}
	return os.RemoveAll(old)
}

const (
	searchable = bleveindex.IndexField | bleveindex.IncludeTermVectors
	exact      = bleveindex.IndexField | bleveindex.SkipFreqNorm // filters, which count for nothing in a score
	counted    = bleveindex.IndexField
	storedOnly = bleveindex.StoreField
)

func (ix *Index) document(p Paper, page Page) *document.Document {
	lang, a := ix.langs.Of(p.Lang)
	doc := document.NewDocument(docID(p.Key, page.Number))
	text := func(field, s string, a *stem.Analyzer) {
		if s != "" {
			doc.AddField(document.NewTextFieldCustom(field, nil, []byte(s), searchable, a))
		}
	}
	terms := func(field string, how bleveindex.FieldIndexingOptions, values []string) {
		for i, v := range values {
			doc.AddField(document.NewTextFieldCustom(field, []uint64{uint64(i)}, []byte(v), how, nil))
		}
	}
	keyword := func(field string, values ...string) { terms(field, exact, values) }
	parts := split(page.Page)
	for _, field := range []string{fieldCore, fieldRest, fieldRefs} {
		text(field, parts.text[field], a)
	}
	text(fieldTitle, p.Title, a)
	text(fieldBy, p.by(), ix.langs[stem.Plain])
	text(fieldTaxa, strings.Join(page.Taxa, string(stem.Gap)), ix.langs[stem.Plain])
	for field, names := range parts.names(page) {
		terms(field, counted, names)
	}
	keyword(fieldPaper, p.Key)
	doc.AddField(document.NewTextFieldCustom(fieldLang, nil, []byte(lang), exact|storedOnly, nil))
	if p.Year != 0 {
		keyword(fieldYear, yearTerm(p.Year))
	}
	keyword(fieldFactor, page.Factors...)
	keyword(fieldSection, parts.sections...)
	doc.AddField(document.NewTextFieldCustom(fieldText, nil, []byte(page.Text), storedOnly, nil))
	doc.AddField(document.NewTextFieldCustom(fieldLayout, nil, parts.layout(), storedOnly, nil))
	return doc
}

// by is who wrote the paper and when, in words.
func (p Paper) by() string {
	by := strings.Join(p.Authors, string(stem.Gap))
	if p.Year != 0 {
		by += string(stem.Gap) + yearTerm(p.Year)
	}
	return by
}

func yearTerm(year int) string { return fmt.Sprintf("%04d", max(year, 0)) }

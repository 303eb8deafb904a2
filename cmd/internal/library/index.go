package library

import (
	"context"
	"errors"
	"iter"
	"maps"
	"slices"
	"time"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query"
	"hatchlore/query/index"
	"hatchlore/species/name"
)

// repair says what was found out of step between store and index and put
// right.
type repair struct {
	rebuilt bool // the whole index was made anew
	added   int  // papers the index lacked, or had an older reading of
	removed int  // papers the store no longer has
}

// any reports whether anything was out of step.
func (r repair) any() bool { return r.rebuilt || r.added+r.removed > 0 }

// openToWrite opens the index for changes and brings it in step with the
// store. rebuild makes it anew whatever its state.
func (l *Library) openToWrite(ctx context.Context, rebuild bool) (repair, error) {
	if err := l.closeIndex(); err != nil {
		return repair{}, err
	}
	ix, err := index.Open(l.indexPath())
	switch {
	case err == nil && rebuild:
		if err := ix.Close(); err != nil {
			return repair{}, err
		}
		return l.rebuild(ctx)
	case index.NeedsRebuild(err):
		return l.rebuild(ctx)
	case err != nil:
		return repair{}, l.whoHolds(err)
	}
	l.index = ix
	return l.catchUp(ctx)
}

func (l *Library) rebuild(ctx context.Context) (repair, error) {
	ix, err := index.Rebuild(ctx, l.indexPath(), l.indexable(ctx))
	if err != nil {
		return repair{}, err
	}
	l.index = ix
	return repair{rebuilt: true}, nil
}

// catchUp puts into the index what it lacks and takes out what is gone.
func (l *Library) catchUp(ctx context.Context) (repair, error) {
	var m repair
	stale, gone, err := l.outOfStep(ctx)
	if err != nil {
		return m, err
	}
	for _, key := range stale {
		if err := l.indexPaper(ctx, key); err != nil {
			return m, err
		}
		m.added++
	}
	for _, key := range gone {
		if err := l.index.Remove(ctx, key); err != nil {
			return m, err
		}
		m.removed++
	}
	if m.any() {
		err = l.index.Flush(ctx)
	}
	return m, err
}

// outOfStep compares the open index with the store: the keys of papers whose
// reading it lacks, and of papers that the store no longer has.
func (l *Library) outOfStep(ctx context.Context) (stale, gone []string, err error) {
	digests, err := l.store.Digests(ctx)
	if err != nil {
		return nil, nil, err
	}
	for _, key := range slices.Sorted(maps.Keys(digests)) {
		stamp, ok, err := l.index.Stamp(key)
		if err != nil {
			return nil, nil, err
		}
		if !ok || stamp != digests[key] {
			stale = append(stale, key)
		}
	}
	keys, err := l.index.Keys()
	if err != nil {
		return nil, nil, err
	}
	for _, k := range keys {
		if _, ok := digests[k]; !ok {
			gone = append(gone, k)
		}
	}
	return stale, gone, nil
}

// openToRead opens the index for searching, mending it first where it is out
// of step. While another process writes, or where nobody may, searches are
// answered from what there is, and behind tells how many papers that lacks.
func (l *Library) openToRead(ctx context.Context) error {
	ix, err := index.OpenToRead(l.indexPath())
	switch {
	case index.NeedsRebuild(err):
		if _, err := l.openToWrite(ctx, false); err != nil {
			return err
		}
		return l.reopen(ctx)
	case err != nil:
		return l.whoHolds(err)
	}
	l.index = ix
	if l.behind, err = l.lacking(ctx); err != nil || l.behind == 0 || l.store.Holder() != nil {
		return err
	}
	if _, err := l.openToWrite(ctx, false); err != nil && !errors.Is(err, index.ErrInUse) && !errors.Is(err, index.ErrReadOnly) {
		return err
	}
	return l.reopen(ctx)
}

// reopen opens the index for searching in place of what is open, as it is.
func (l *Library) reopen(ctx context.Context) error {
	if err := l.closeIndex(); err != nil {
		return err
	}
	var err error
	if l.index, err = index.OpenToRead(l.indexPath()); err != nil {
		return l.whoHolds(err)
	}
	l.behind, err = l.lacking(ctx)
	return err
}

// lacking returns of how many papers the open index has not what the store has.
func (l *Library) lacking(ctx context.Context) (int, error) {
	stale, gone, err := l.outOfStep(ctx)
	l.checked = time.Now()
	return len(stale) + len(gone), err
}

// checkEvery is how long an index that is kept open to search is taken to be
// in step with the store without looking.
const checkEvery = 5 * time.Second

// refresh opens the index where it is not open, and anew where a newer state
// is there or may be called for.
func (l *Library) refresh(ctx context.Context) error {
	if l.index != nil && !l.index.Copy() {
		return nil // this Library writes to it, or keeps others from writing
	}
	if l.index != nil && !l.index.Stale() {
		if time.Since(l.checked) < checkEvery {
			return nil
		}
		if n, err := l.lacking(ctx); err != nil || n == l.behind {
			return err
		}
	}
	if err := l.closeIndex(); err != nil {
		return err
	}
	return l.openToRead(ctx)
}

// whoHolds says which process keeps the index, where that is known.
func (l *Library) whoHolds(err error) error {
	if holder := l.store.Holder(); errors.Is(err, index.ErrInUse) && holder != nil {
		return holder
	}
	return err
}

// closeIndex writes what waits and lets go of the index.
func (l *Library) closeIndex() error {
	if l.index == nil {
		return nil
	}
	err := l.index.Close()
	l.index = nil
	return err
}

// Behind returns of how many papers searches do not see the present reading,
// because another process is still writing or the library may not be written.
// It is about the searches made last.
func (l *Library) Behind() int {
	l.gate.Lock()
	defer l.gate.Unlock()
	return l.behind
}

// Searching returns what answers questions, searches included. It is good
// until the Library is next asked for anything.
func (l *Library) Searching(ctx context.Context) (*query.Engine, error) {
	l.gate.Lock()
	defer l.gate.Unlock()
	if err := l.refresh(ctx); err != nil {
		return nil, err
	}
	return query.New(l.store, l.index), nil
}

// Search gives use an Engine that can search. Another process may write
// meanwhile; what it writes is seen by later searches. While papers are added
// by this Library it searches what is in so far. It may be called from several
// goroutines.
func (l *Library) Search(ctx context.Context, use func(*query.Engine) error) (err error) {
	l.gate.Lock()
	defer l.gate.Unlock()
	opened := l.index == nil
	if err := l.refresh(ctx); err != nil {
		return err
	}
	if opened && !l.index.Copy() {
		// Where there are no copies, the index is let go, for others to write.
		defer func() {
			if e := l.closeIndex(); err == nil {
				err = e
			}
		}()
	}
	return use(query.New(l.store, l.index))
}

// indexable yields every paper of the store as the index takes it.
func (l *Library) indexable(ctx context.Context) iter.Seq2[index.Paper, error] {
	return func(yield func(index.Paper, error) bool) {
		for p, err := range l.store.Papers(ctx) {
			var paper index.Paper
			if err == nil {
				paper, err = l.indexForm(ctx, p, l.store.Pages(ctx, p.Paper), nil)
			}
			if !yield(paper, err) || err != nil {
				return
			}
		}
	}
}

func (l *Library) indexPaper(ctx context.Context, key string) error {
	listing, err := l.store.Listing(ctx, key)
	if err != nil {
		return err
	}
	return l.indexPages(ctx, listing, l.store.Pages(ctx, key), nil)
}

// indexPages puts a paper into the index with pages that are at hand; names is
// what is known of their names, nil when nothing is.
func (l *Library) indexPages(ctx context.Context, p store.Listing, pages iter.Seq2[ingest.Page, error], names *name.Scope) error {
	paper, err := l.indexForm(ctx, p, pages, names)
	if err != nil {
		return err
	}
	return l.index.Put(ctx, paper)
}

// indexForm joins a paper's pages with what its claims speak of.
func (l *Library) indexForm(ctx context.Context, p store.Listing, pages iter.Seq2[ingest.Page, error], names *name.Scope) (index.Paper, error) {
	out := index.Paper{Key: p.Paper, Stamp: p.Digest, Title: p.Title, Authors: p.Authors, Year: p.Year, Lang: p.Lang}
	claims, err := l.store.Claims(ctx, store.Filter{Paper: p.Paper})
	if err != nil {
		return out, err
	}
	var texts []string
	for page, err := range pages {
		if err != nil {
			return out, err
		}
		taxa, factors := subjects(claims, page.Number)
		out.Pages = append(out.Pages, index.Page{Page: page, Taxa: taxa, Factors: factors})
		texts = append(texts, page.Text)
	}
	if names == nil {
		names = name.NewScope(p.Title, texts...)
	} else {
		names = names.Under(p.Title) // the title as it is stored, so that making the index anew makes the same
	}
	for i := range out.Pages {
		out.Pages[i].Names = namesOf(names, out.Pages[i].Text)
	}
	return out, nil
}

// namesOf returns the animals that a page names, as its paper means them.
func namesOf(scope *name.Scope, text string) []index.Name {
	var out []index.Name
	for _, n := range scope.Find(text) {
		if full := n.Full(); full != "" {
			out = append(out, index.Name{Full: full, Start: n.Start})
		}
	}
	return out
}

// subjects returns the taxa and factors of the claims on one page.
func subjects(claims []evidence.Claim, page int) (taxa, factors []string) {
	for _, c := range claims {
		if c.Page != page {
			continue
		}
		if c.Taxon != "" && !slices.Contains(taxa, c.Taxon) {
			taxa = append(taxa, c.Taxon)
		}
		if f := string(c.Factor); !slices.Contains(factors, f) {
			factors = append(factors, f)
		}
	}
	return taxa, factors
}

package library

import (
	"context"
	"errors"
	"iter"
	"maps"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query"
	"hatchlore/query/index"
	"hatchlore/species/name"
)

// Mended says what was found out of step between store and index and put
// right.
type Mended struct {
	Rebuilt bool // the whole index was made anew
	Added   int  // papers the index lacked, or had an older reading of
	Removed int  // papers the store no longer has
}

// Any reports whether anything was out of step.
func (m Mended) Any() bool { return m.Rebuilt || m.Added+m.Removed > 0 }

// openToWrite opens the index for changes and brings it in step with the
// store. rebuild makes it anew whatever its state.
func (l *Library) openToWrite(ctx context.Context, rebuild bool) (Mended, error) {
	if err := l.closeIndex(); err != nil {
		return Mended{}, err
	}
	ix, err := index.Open(l.indexPath())
	switch {
	case err == nil && rebuild:
		if err := ix.Close(); err != nil {
			return Mended{}, err
		}
		return l.rebuild(ctx)
	case index.NeedsRebuild(err):
		return l.rebuild(ctx)
	case err != nil:
		return Mended{}, l.whoHolds(err)
	}
	l.index = ix
	return l.mend(ctx)
}

func (l *Library) rebuild(ctx context.Context) (Mended, error) {
	ix, err := index.Rebuild(ctx, l.indexPath(), l.indexable(ctx))
	if err != nil {
		return Mended{}, err
	}
	l.index = ix
	return Mended{Rebuilt: true}, nil
}

// mend puts into the index what it lacks and takes out what is gone.
func (l *Library) mend(ctx context.Context) (Mended, error) {
	var m Mended
	stale, gone, err := l.outOfStep(ctx)
	if err != nil {
		return m, err
	}
	for _, key := range stale {
		if err := l.indexPaper(ctx, key); err != nil {
			return m, err
		}
		m.Added++
	}
	for _, key := range gone {
		if err := l.index.Remove(ctx, key); err != nil {
			return m, err
		}
		m.Removed++
	}
	if m.Any() {
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

// openToRead opens the index for searching, mending it first where it is
// out of step.
func (l *Library) openToRead(ctx context.Context) error {
	ix, err := index.OpenToRead(l.indexPath())
	if err == nil {
		l.index = ix
		stale, gone, err := l.outOfStep(ctx)
		if err != nil || len(stale)+len(gone) == 0 {
			return err
		}
	} else if !index.NeedsRebuild(err) {
		return l.whoHolds(err)
	}
	_, err = l.openToWrite(ctx, false)
	return err
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

// Searching returns what answers questions, searches included.
func (l *Library) Searching(ctx context.Context) (*query.Engine, error) {
	if l.index == nil {
		if err := l.openToRead(ctx); err != nil {
			return nil, err
		}
	}
	return query.New(l.store, l.index), nil
}

// Search gives use an Engine that can search, and lets go of the index when
// use is done, so that another process may write between two searches. While
// papers are added by this Library it searches what is in so far. It may be
// called from several goroutines.
func (l *Library) Search(ctx context.Context, use func(*query.Engine) error) (err error) {
	l.gate.Lock()
	defer l.gate.Unlock()
	if l.index == nil {
		if err := l.openToRead(ctx); err != nil {
			return err
		}
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
				paper, err = l.indexForm(ctx, p, l.store.Pages(ctx, p.Paper))
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
	return l.indexPages(ctx, listing, l.store.Pages(ctx, key))
}

// indexPages puts a paper into the index with pages that are at hand.
func (l *Library) indexPages(ctx context.Context, p store.Listing, pages iter.Seq2[ingest.Page, error]) error {
	paper, err := l.indexForm(ctx, p, pages)
	if err != nil {
		return err
	}
	return l.index.Put(ctx, paper)
}

// indexForm joins a paper's pages with what its claims speak of.
func (l *Library) indexForm(ctx context.Context, p store.Listing, pages iter.Seq2[ingest.Page, error]) (index.Paper, error) {
	out := index.Paper{Key: p.Paper, Stamp: p.Digest, Title: p.Title, Year: p.Year, Lang: p.Lang}
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
	scope := name.NewScope(p.Title, texts...)
	for i := range out.Pages {
		out.Pages[i].Names = namesOf(scope, out.Pages[i].Text)
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

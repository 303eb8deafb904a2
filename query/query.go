// Package query answers the keeper's questions about a library: which pages
// speak of something, what is known of a taxon, where papers disagree, and
// which trial questions follow from that. Answers are values ready to print.
//
// It refuses to print, and to keep anything between two questions but what a
// caller gives it a [Memory] for.
package query

import (
	"context"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/query/index"
	"hatchlore/species/pool"
	"hatchlore/species/table"
	"hatchlore/species/taxonomy"
	"hatchlore/species/witness"
)

// Engine answers questions from a store and its index.
type Engine struct {
	store  *store.Store
	index  *index.Index
	memory *Memory
}

// New returns an Engine. ix may be nil where nothing will be searched for.
func New(s *store.Store, ix *index.Index) *Engine {
	return &Engine{store: s, index: ix, memory: &Memory{}}
}

// papers returns what is known of every paper, by citation key.
func (e *Engine) papers(ctx context.Context) (witness.Library, error) {
	lib := witness.Library{}
	for p, err := range e.store.Authorships(ctx) {
		if err != nil {
			return nil, err
		}
		lib[p.Key] = witness.Paper{Key: p.Key, Title: p.Title, Authors: p.Authors, Year: p.Year, Volume: p.Volume, Extent: p.Extent, DOI: p.DOI}
	}
	said, err := e.store.Experiments(ctx)
	if err != nil {
		return nil, err
	}
	judge(lib, said)
	return lib, nil
}

// told returns claims, with the names and papers by which they are understood.
func (e *Engine) told(ctx context.Context, f store.Filter) ([]evidence.Claim, *taxonomy.Names, witness.Library, error) {
	claims, err := e.store.Claims(ctx, f)
	if err != nil {
		return nil, nil, nil, err
	}
	names, err := e.names(ctx)
	if err != nil {
		return nil, nil, nil, err
	}
	lib, err := e.papers(ctx)
	return claims, names, lib, err
}

// about returns the claims on a taxon as the keeper typed it, with the names and papers
// by which they are understood; papers that publish one experiment are joined.
func (e *Engine) about(ctx context.Context, taxon string, borrow bool) (taxonomy.Selection, *taxonomy.Names, witness.Library, error) {
	s, names, err := e.selection(ctx, taxon, borrow)
	if err != nil {
		return s, nil, nil, err
	}
	lib, err := e.papers(ctx)
	if err != nil {
		return s, nil, nil, err
	}
	lib.Join(witness.Twins(s.Claims, lib, names))
	return s, names, lib, nil
}

// Evidence is what the library holds on a taxon.
type Evidence struct {
	Taxon  string // its current name
	Rows   []table.Row
	Papers int
	Pooled []pool.Pooled // hatched fractions taken together, or why not

	idLength int
}

// Short returns as much of a claim's id as tells it from every other.
func (e Evidence) Short(id string) string { return id[:min(e.idLength, len(id))] }

// Evidence returns the evidence table of a species or genus. With factors
// given, only their rows.
func (e *Engine) Evidence(ctx context.Context, taxon string, borrow bool, factors []evidence.Factor) (Evidence, error) {
	s, names, lib, err := e.about(ctx, taxon, borrow)
	if err != nil {
		return Evidence{}, err
	}
	out := Evidence{Taxon: s.Taxon}
	if out.idLength, err = e.store.IDLength(ctx); err != nil {
		return Evidence{}, err
	}
	papers := map[string]bool{}
	for _, r := range table.Of(s, lib, names) {
		if wanted(r.Factor, factors) {
			out.Rows = append(out.Rows, r)
			papers[r.Paper] = true
		}
	}
	out.Papers = len(papers)
	words, err := e.words(ctx, slices.Concat(s.Claims, s.Borrowed), nil)
	if err != nil {
		return Evidence{}, err
	}
	tell(out.Rows, words)
	if wanted(evidence.HatchingFraction, factors) {
		out.Pooled = pool.Of(s.Claims, lib, names, eggs(words))
	}
	return out, nil
}

func wanted(f evidence.Factor, only []evidence.Factor) bool {
	return len(only) == 0 || slices.Contains(only, f)
}

// Package query answers the keeper's questions about a library: which pages
// speak of something, what is known of a taxon, where papers disagree, and
// which trial questions follow from that. Answers are values ready to print.
//
// It refuses to print, and to keep anything between two questions.
package query

import (
	"context"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/query/index"
	"hatchlore/species"
)

// Engine answers questions from a store and its index.
type Engine struct {
	store *store.Store
	index *index.Index
}

// New returns an Engine. ix may be nil where nothing will be searched for.
func New(s *store.Store, ix *index.Index) *Engine { return &Engine{store: s, index: ix} }

// papers returns what is known of every paper, by citation key.
func (e *Engine) papers(ctx context.Context) (species.Library, error) {
	lib := species.Library{}
	for p, err := range e.store.Papers(ctx) {
		if err != nil {
			return nil, err
		}
		lib[p.Paper] = species.Paper{Key: p.Paper, Authors: p.Authors, Year: p.Year}
	}
	return lib, nil
}

// names returns the resolver of the library's names.
func (e *Engine) names(ctx context.Context) (*species.Names, error) {
	all, err := e.store.Aliases(ctx)
	if err != nil {
		return nil, err
	}
	aliases := make([]species.Alias, 0, len(all))
	for _, a := range all {
		aliases = append(aliases, species.Alias{Old: a.Old, New: a.New})
	}
	return species.NewNames(aliases)
}

// selection returns the claims on a taxon as the keeper typed it.
func (e *Engine) selection(ctx context.Context, taxon string, borrow bool) (species.Selection, *species.Names, error) {
	names, err := e.names(ctx)
	if err != nil {
		return species.Selection{}, nil, err
	}
	claims, err := e.store.Claims(ctx, store.Filter{})
	if err != nil {
		return species.Selection{}, nil, err
	}
	s, err := species.Select(claims, taxon, names, borrow)
	return s, names, err
}

// Evidence is what the library holds on a taxon.
type Evidence struct {
	Taxon  string // its current name
	Rows   []species.Row
	Papers int
}

// Evidence returns the evidence table of a species or genus. With factors
// given, only their rows.
func (e *Engine) Evidence(ctx context.Context, taxon string, borrow bool, factors []evidence.Factor) (Evidence, error) {
	s, names, err := e.selection(ctx, taxon, borrow)
	if err != nil {
		return Evidence{}, err
	}
	lib, err := e.papers(ctx)
	if err != nil {
		return Evidence{}, err
	}
	out := Evidence{Taxon: s.Taxon}
	papers := map[string]bool{}
	for _, r := range species.Table(s, lib, names) {
		if wanted(r.Factor, factors) {
			out.Rows = append(out.Rows, r)
			papers[r.Paper] = true
		}
	}
	out.Papers = len(papers)
	return out, nil
}

func wanted(f evidence.Factor, only []evidence.Factor) bool {
	for _, o := range only {
		if o == f {
			return true
		}
	}
	return len(only) == 0
}

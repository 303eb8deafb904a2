// Package match has ways of finding pages that the search engine lacks or takes too
// long for: all of several things, the rarest first, and any of several, scored by
// their sum.
//
// It refuses to know what is looked for: its parts are the engine's own queries.
package match

import (
	"cmp"
	"context"
	"slices"

	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	bleveindex "github.com/blevesearch/bleve_index_api"
)

// All asks for pages that have every one of several things, and scores a page
// with their sum, as the engine's own conjunction does. That one takes each
// thing a page further after every page found; this one looks common things up
// only on the pages that have the rarest.
type All []query.Query

// Searcher implements the engine's query interface.
func (a All) Searcher(ctx context.Context, r bleveindex.IndexReader, m mapping.IndexMapping, o search.SearcherOptions) (search.Searcher, error) {
	s := &allSearcher{}
	for _, q := range a {
		part, err := q.Searcher(ctx, r, m, o)
		if err != nil {
			s.Close()
			return nil, err
		}
		s.searchers = append(s.searchers, part)
	}
	slices.SortStableFunc(s.searchers, func(a, b search.Searcher) int { return cmp.Compare(a.Count(), b.Count()) })
	s.at = make([]*search.DocumentMatch, len(s.searchers))
	s.SetQueryNorm(s.norm())
	return s, nil
}

type allSearcher struct {
	searchers                         // the rarest first
	at        []*search.DocumentMatch // where each but the first stands; nil on the page returned last
}

// Next returns the next page that all parts have.
func (s *allSearcher) Next(ctx *search.SearchContext) (*search.DocumentMatch, error) {
	lead, err := s.searchers[0].Next(ctx)
	if err != nil {
		return nil, err
	}
	return s.agree(ctx, lead)
}

// Advance returns the first page at or after id that all parts have.
func (s *allSearcher) Advance(ctx *search.SearchContext, id bleveindex.IndexInternalID) (*search.DocumentMatch, error) {
	lead, err := s.searchers[0].Advance(ctx, id)
	if err != nil {
		return nil, err
	}
	return s.agree(ctx, lead)
}

// agree returns the first page from lead on that all parts have, where lead is
// where the rarest stands.
func (s *allSearcher) agree(ctx *search.SearchContext, lead *search.DocumentMatch) (*search.DocumentMatch, error) {
	for lead != nil {
		ahead, err := s.follow(ctx, lead)
		if err != nil {
			return nil, err
		}
		if ahead < 0 {
			return s.scored(ctx, lead), nil
		}
		ctx.DocumentMatchPool.Put(lead)
		if s.at[ahead] == nil {
			return nil, nil // a part is at its end
		}
		if lead, err = s.searchers[0].Advance(ctx, s.at[ahead].IndexInternalID); err != nil {
			return nil, err
		}
	}
	return nil, nil
}

// follow takes the parts to lead's page and returns the first that does not
// have it and stands behind it or at its end; -1 when all have it.
func (s *allSearcher) follow(ctx *search.SearchContext, lead *search.DocumentMatch) (ahead int, err error) {
	for i := 1; i < len(s.at); i++ {
		m := s.at[i]
		if m == nil || m.IndexInternalID.Compare(lead.IndexInternalID) < 0 {
			if m != nil {
				ctx.DocumentMatchPool.Put(m)
			}
			if m, err = s.searchers[i].Advance(ctx, lead.IndexInternalID); err != nil {
				return 0, err
			}
			s.at[i] = m
		}
		if m == nil || m.IndexInternalID.Compare(lead.IndexInternalID) != 0 {
			return i, nil
		}
	}
	return -1, nil
}

// scored returns lead with the sum of the parts' scores.
func (s *allSearcher) scored(ctx *search.SearchContext, lead *search.DocumentMatch) *search.DocumentMatch {
	for i, m := range s.at[1:] {
		lead.Score += m.Score
		ctx.DocumentMatchPool.Put(m)
		s.at[i+1] = nil
	}
	return lead
}

// Count returns how many pages there are at most.
func (s *allSearcher) Count() uint64 { return s.searchers[0].Count() }

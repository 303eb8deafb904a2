package match

import (
	"context"
	"slices"

	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	"github.com/blevesearch/bleve/v2/search/searcher"
	bleveindex "github.com/blevesearch/bleve_index_api"
)

// Union asks for any of several things and scores a page with the sum of those
// it has. The engine's own disjunction multiplies that sum by the share of the
// things found, which would favour a page that has a word in its text and its
// reference list over one that has it in its results alone.
type Union []query.Query

// Searcher implements the engine's query interface.
func (u Union) Searcher(ctx context.Context, r bleveindex.IndexReader, m mapping.IndexMapping, o search.SearcherOptions) (search.Searcher, error) {
	s := &unionSearcher{}
	for _, q := range u {
		part, err := q.Searcher(ctx, r, m, o)
		if err != nil {
			s.Close()
			return nil, err
		}
		if _, none := part.(*searcher.MatchNoneSearcher); none || part.Count() == 0 {
			part.Close()
			continue
		}
		s.searchers = append(s.searchers, part)
	}
	if len(s.searchers) == 0 {
		return searcher.NewMatchNoneSearcher(r)
	}
	if len(s.searchers) == 1 {
		return s.searchers[0], nil
	}
	s.at = make([]*search.DocumentMatch, len(s.searchers))
	s.spent = slices.Repeat([]bool{true}, len(s.searchers))
	s.SetQueryNorm(s.norm())
	return s, nil
}

type unionSearcher struct {
	searchers
	at    []*search.DocumentMatch // where each stands, nil at its end
	spent []bool                  // which stand on the page returned last, or have not started
}

func (s *unionSearcher) step(ctx *search.SearchContext, i int) (err error) {
	s.at[i], err = s.searchers[i].Next(ctx)
	s.spent[i] = false
	return err
}

// leave moves the parts off the page returned last, or to their first. It
// waits until the next page is wanted: who asks by Advance then spares the parts
// a step each.
func (s *unionSearcher) leave(ctx *search.SearchContext) error {
	for i, spent := range s.spent {
		if !spent {
			continue
		}
		if err := s.step(ctx, i); err != nil {
			return err
		}
	}
	return nil
}

// Next returns the next page that any part has.
func (s *unionSearcher) Next(ctx *search.SearchContext) (*search.DocumentMatch, error) {
	if err := s.leave(ctx); err != nil {
		return nil, err
	}
	return s.best(ctx), nil
}

// best returns the first page that a part stands on, with its score, and nil
// when all are at their ends.
func (s *unionSearcher) best(ctx *search.SearchContext) *search.DocumentMatch {
	var out *search.DocumentMatch
	for _, m := range s.at {
		if m != nil && (out == nil || m.IndexInternalID.Compare(out.IndexInternalID) < 0) {
			out = m
		}
	}
	if out == nil {
		return nil
	}
	score := 0.0
	for i, m := range s.at {
		if m == nil || (m != out && m.IndexInternalID.Compare(out.IndexInternalID) != 0) {
			continue
		}
		score += m.Score
		if m != out {
			ctx.DocumentMatchPool.Put(m)
		}
		s.at[i], s.spent[i] = nil, true
	}
	out.Score = score
	return out
}

// Advance returns the first page at or after id that any part has.
func (s *unionSearcher) Advance(ctx *search.SearchContext, id bleveindex.IndexInternalID) (*search.DocumentMatch, error) {
	for i, m := range s.at {
		switch {
		case s.spent[i]:
			s.spent[i] = false
		case m == nil || m.IndexInternalID.Compare(id) >= 0:
			continue
		default:
			ctx.DocumentMatchPool.Put(m)
		}
		var err error
		if s.at[i], err = s.searchers[i].Advance(ctx, id); err != nil {
			return nil, err
		}
	}
	return s.best(ctx), nil
}

// Count returns how many pages there are at most.
func (s *unionSearcher) Count() uint64 {
	var sum uint64
	for _, p := range s.searchers {
		sum += p.Count()
	}
	return sum
}

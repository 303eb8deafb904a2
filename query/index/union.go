package index

import (
	"context"
	"math"

	"github.com/blevesearch/bleve/v2/mapping"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	"github.com/blevesearch/bleve/v2/search/searcher"
	bleveindex "github.com/blevesearch/bleve_index_api"
)

// union asks for any of several things and scores a page with the sum of those
// it has. The engine's own disjunction multiplies that sum by the share of the
// things found, which would favour a page that has a word in its text and its
// reference list over one that has it in its results alone.
type union []query.Query

// Searcher implements the engine's query interface.
func (u union) Searcher(ctx context.Context, r bleveindex.IndexReader, m mapping.IndexMapping, o search.SearcherOptions) (search.Searcher, error) {
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
		s.parts = append(s.parts, part)
	}
	if len(s.parts) == 0 {
		return searcher.NewMatchNoneSearcher(r)
	}
	if len(s.parts) == 1 {
		return s.parts[0], nil
	}
	s.at = make([]*search.DocumentMatch, len(s.parts))
	s.SetQueryNorm(1 / math.Sqrt(s.Weight()))
	return s, nil
}

type unionSearcher struct {
	parts   []search.Searcher
	at      []*search.DocumentMatch // where each part stands, nil at its end
	started bool
}

func (s *unionSearcher) start(ctx *search.SearchContext) error {
	if s.started {
		return nil
	}
	s.started = true
	for i := range s.parts {
		if err := s.step(ctx, i); err != nil {
			return err
		}
	}
	return nil
}

func (s *unionSearcher) step(ctx *search.SearchContext, i int) (err error) {
	s.at[i], err = s.parts[i].Next(ctx)
	return err
}

// Next returns the next page that any part has.
func (s *unionSearcher) Next(ctx *search.SearchContext) (*search.DocumentMatch, error) {
	if err := s.start(ctx); err != nil {
		return nil, err
	}
	var out *search.DocumentMatch
	for _, m := range s.at {
		if m != nil && (out == nil || m.IndexInternalID.Compare(out.IndexInternalID) < 0) {
			out = m
		}
	}
	if out == nil {
		return nil, nil
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
		if err := s.step(ctx, i); err != nil {
			return nil, err
		}
	}
	out.Score = score
	return out, nil
}

// Advance returns the first page at or after id that any part has.
func (s *unionSearcher) Advance(ctx *search.SearchContext, id bleveindex.IndexInternalID) (*search.DocumentMatch, error) {
	if err := s.start(ctx); err != nil {
		return nil, err
	}
	for i, m := range s.at {
		if m == nil || m.IndexInternalID.Compare(id) >= 0 {
			continue
		}
		ctx.DocumentMatchPool.Put(m)
		var err error
		if s.at[i], err = s.parts[i].Advance(ctx, id); err != nil {
			return nil, err
		}
	}
	return s.Next(ctx)
}

func (s *unionSearcher) Close() error {
	var first error
	for _, p := range s.parts {
		if err := p.Close(); err != nil && first == nil {
			first = err
		}
	}
	return first
}

func (s *unionSearcher) Weight() float64 {
	sum := 0.0
	for _, p := range s.parts {
		sum += p.Weight()
	}
	return sum
}

func (s *unionSearcher) SetQueryNorm(norm float64) {
	for _, p := range s.parts {
		p.SetQueryNorm(norm)
	}
}

func (s *unionSearcher) Count() uint64 {
	var sum uint64
	for _, p := range s.parts {
		sum += p.Count()
	}
	return sum
}

func (s *unionSearcher) Min() int { return 0 }

func (s *unionSearcher) Size() int {
	sum := 0
	for _, p := range s.parts {
		sum += p.Size()
	}
	return sum
}

func (s *unionSearcher) DocumentMatchPoolSize() int {
	sum := len(s.parts)
	for _, p := range s.parts {
		sum += p.DocumentMatchPoolSize()
	}
	return sum
}

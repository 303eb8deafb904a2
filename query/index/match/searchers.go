package match

import (
	"math"

	"github.com/blevesearch/bleve/v2/search"
)

// searchers is what a searcher that is made of others has of them.
type searchers []search.Searcher

func (s searchers) Close() error {
	var first error
	for _, p := range s {
		if err := p.Close(); err != nil && first == nil {
			first = err
		}
	}
	return first
}

func (s searchers) Weight() float64 {
	sum := 0.0
	for _, p := range s {
		sum += p.Weight()
	}
	return sum
}

func (s searchers) SetQueryNorm(norm float64) {
	for _, p := range s {
		p.SetQueryNorm(norm)
	}
}

// norm is what makes scores of different questions comparable, after the
// engine's own queries.
func (s searchers) norm() float64 { return 1 / math.Sqrt(s.Weight()) }

func (s searchers) Min() int { return 0 }

func (s searchers) Size() int {
	sum := 0
	for _, p := range s {
		sum += p.Size()
	}
	return sum
}

func (s searchers) DocumentMatchPoolSize() int {
	sum := len(s)
	for _, p := range s {
		sum += p.DocumentMatchPoolSize()
	}
	return sum
}

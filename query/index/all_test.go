package index

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search/query"

	"hatchlore/query/index/match"
)

// Of random questions over random pages, all finds the pages that the engine's
// own conjunction finds, with the same scores, as does a union within it.
func TestAllIsTheEnginesConjunction(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 9))
	vocabulary := strings.Fields("egg cold dry dark light hatch pond salt mud warm")
	var papers []Paper
	for i := range 120 {
		var text []string
		for range 1 + rnd.IntN(12) {
			// The later words are the rarer ones.
			text = append(text, vocabulary[min(rnd.IntN(len(vocabulary)), rnd.IntN(len(vocabulary)))])
		}
		papers = append(papers, Paper{Key: fmt.Sprintf("made%03d", i), Lang: "en", Pages: []Page{results(1, strings.Join(text, " "))}})
	}
	ix := fill(t, papers...)
	term := func() query.Query {
		q := bleve.NewTermQuery(vocabulary[rnd.IntN(len(vocabulary))])
		q.SetField(fieldCore)
		return q
	}
	found := func(q query.Query) []string {
		res, err := ix.bleve.Search(bleve.NewSearchRequestOptions(q, len(papers), 0, false))
		if err != nil {
			t.Fatal(err)
		}
		var out []string
		for _, h := range res.Hits {
			out = append(out, fmt.Sprintf("%s %.9f", h.ID, h.Score))
		}
		slices.Sort(out)
		return out
	}
	pages := 0
	for range 300 {
		var parts []query.Query
		for range 1 + rnd.IntN(4) {
			var u match.Union
			for range 1 + rnd.IntN(3) {
				u = append(u, term())
			}
			parts = append(parts, u)
		}
		// As in a question, the parts stand under the engine's own query.
		boolean := bleve.NewBooleanQuery()
		boolean.AddMust(match.All(parts))
		got, want := found(boolean), found(bleve.NewConjunctionQuery(parts...))
		if !slices.Equal(got, want) {
			t.Fatalf("%v: found %v, the engine %v", parts, got, want)
		}
		pages += len(got)
	}
	if pages < 1000 {
		t.Errorf("%d pages found in all: too few to tell anything", pages)
	}
}

package index

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"

	"hatchlore/ingest"
	"hatchlore/query/index/needle"
	"hatchlore/query/index/passage"
	"hatchlore/query/index/question"
)

// Query is what is asked for. Fields that are empty ask for nothing.
type Query struct {
	Words    string // in the syntax of package question
	From, To int    // years of publication, both included; 0 is open
	Factor   string // pages with a claim about it
	Paper    string // key
	Section  ingest.Section
	Limit    int // 0 means 20

	// Same returns the other names, written out, of what a keeper means by a
	// name that is given in lower case. A page that has one of them counts as
	// having the name. Nil where no names have others.
	Same func(name string) []string
}

const (
	defaultLimit  = 20
	maxCandidates = 2000 // pages looked at for a question about one section
)

// Hit is a page found.
type Hit struct {
	Paper   string
	Page    int
	Snippet passage.Snippet
	Score   float64 // comparable within one answer only
}

// Search returns the pages that fit q, the best first.
func (ix *Index) Search(ctx context.Context, q Query) ([]Hit, error) {
	var hits []Hit
	err := ix.ask(func() error {
		var err error
		hits, err = ix.search(ctx, q)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("searching: %w", err)
	}
	return hits, nil
}

func (ix *Index) search(ctx context.Context, q Query) ([]Hit, error) {
	question, err := question.Parse(q.Words)
	if err != nil {
		return nil, err
	}
	langs, err := ix.terms(fieldLang) // that there are pages in
	if err != nil {
		return nil, err
	}
	needles, err := ix.needles(question, q.Same)
	if err != nil {
		return nil, err
	}
	asked, err := ix.compile(needles, langs, q)
	if err != nil {
		return nil, err
	}
	limit := q.Limit
	if limit <= 0 {
		limit = defaultLimit
	}
	var hits []Hit
	find := needle.NewFinder(needles)
	// The engine searches anew for each stretch, so that the later are longer.
	for from, size := 0, limit; len(hits) < limit && from < maxCandidates; from, size = from+size, 4*size {
		page, more, err := ix.fetch(ctx, asked, from, size, find, q.Section)
		if err != nil {
			return nil, err
		}
		hits = append(hits, page...)
		if !more || q.Section == "" {
			break
		}
	}
	// Pages of equal score come in the order of their papers, not of the files.
	slices.SortStableFunc(hits, func(a, b Hit) int {
		return cmp.Or(-cmp.Compare(a.Score, b.Score), strings.Compare(a.Paper, b.Paper), a.Page-b.Page)
	})
	return hits[:min(limit, len(hits))], nil
}

// fetch returns the hits of one stretch of the answer; more is false at its end.
func (ix *Index) fetch(ctx context.Context, asked query.Query, from, size int, find *needle.Finder, only ingest.Section) (hits []Hit, more bool, err error) {
	req := bleve.NewSearchRequestOptions(asked, size, from, false)
	req.Fields = []string{fieldText, fieldLayout, fieldLang}
	res, err := ix.bleve.SearchInContext(ctx, req)
	if err != nil {
		return nil, false, err
	}
	for _, m := range res.Hits {
		h, ok, err := ix.hit(m, find, only)
		if err != nil {
			return nil, false, err
		}
		if ok {
			hits = append(hits, h)
		}
	}
	return hits, len(res.Hits) == size, nil
}

// hit is false when the page's words are not in the only section asked for.
func (ix *Index) hit(m *search.DocumentMatch, find *needle.Finder, only ingest.Section) (Hit, bool, error) {
	cut := strings.LastIndexByte(m.ID, '#')
	number, err := strconv.Atoi(m.ID[cut+1:])
	if err != nil {
		return Hit{}, false, fmt.Errorf("%w (page id %q)", ErrDamaged, m.ID)
	}
	text, _ := m.Fields[fieldText].(string)
	layout, _ := m.Fields[fieldLayout].(string)
	lang, _ := m.Fields[fieldLang].(string)
	var parts []passage.Part
	if layout != "" {
		if err := json.Unmarshal([]byte(layout), &parts); err != nil {
			return Hit{}, false, fmt.Errorf("%w (sections of %q)", ErrDamaged, m.ID)
		}
	}
	_, a := ix.langs.Of(lang)
	found := find.Places(text, a)
	if only != "" {
		found = slices.DeleteFunc(found, func(p needle.Place) bool { return passage.SectionAt(parts, p.Start) != only })
		if !find.Cover(found) {
			return Hit{}, false, nil
		}
	}
	s := passage.Best(text, parts, found, worth)
	return Hit{Paper: m.ID[:cut], Page: number, Snippet: s, Score: m.Score}, true, nil
}

package index

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
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
	Page     int    // of the paper; 0 asks for none
	Section  ingest.Section
	Limit    int // 0 means 20

	// Most asks for the pages that have the most of the words, for where none has
	// all of them.
	Most bool

	// Same returns the other names, written out, of what a keeper means by a
	// name that is given in lower case. A page that has one of them counts as
	// having the name. Nil where no names have others.
	Same func(name string) []string
}

const (
	defaultLimit  = 20
	maxCandidates = 2000 // pages looked at for a question about one section
	mostLooked    = 200  // pages looked at for those that have the most
)

// Hit is a page found.
type Hit struct {
	Paper   string
	Page    int
	Snippet passage.Snippet
	Found   []passage.Span // every place of the page that has what was asked for, in bytes of its text
	Lacks   []string       // of a [Query.Most], what does not stand on the page, as typed
	Score   float64        // comparable within one answer only
}

// Search returns the pages that fit q, the best first.
func (ix *Index) Search(ctx context.Context, q Query) ([]Hit, error) {
	var hits []Hit
	err := ix.ask(func() error {
		var err error
		hits, err = ix.search(ctx, q)
		return err
	})
	return hits, failed(err)
}

// failed tells what an error happened at, but for one about the question itself.
func failed(err error) error {
	if err == nil || errors.Is(err, question.ErrNothing) || errors.Is(err, ErrCommon) {
		return err
	}
	return fmt.Errorf("searching: %w", err)
}

func (ix *Index) search(ctx context.Context, q Query) ([]Hit, error) {
	needles, langs, err := ix.asked(q)
	if err != nil || len(langs) == 0 { // no pages at all
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
	size := limit
	if q.Most {
		size = max(limit, mostLooked)
	}
	find := needle.NewFinder(needles)
	var hits []Hit
	// The engine searches anew for each stretch, so that the later are longer.
	for from := 0; len(hits) < limit && from < maxCandidates; from, size = from+size, 4*size {
		page, more, err := ix.fetch(ctx, asked, from, size, find, q)
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
	if q.Most {
		hits = withMost(hits)
	}
	return hits[:min(limit, len(hits))], nil
}

// withMost keeps the hits that lack the least.
func withMost(hits []Hit) []Hit {
	if len(hits) == 0 {
		return nil
	}
	least := len(slices.MinFunc(hits, func(a, b Hit) int { return len(a.Lacks) - len(b.Lacks) }).Lacks)
	return slices.DeleteFunc(hits, func(h Hit) bool { return len(h.Lacks) > least })
}

// asked returns what is looked for, and the languages that there are pages in.
func (ix *Index) asked(q Query) ([]needle.Needle, []string, error) {
	parsed, err := question.Parse(q.Words)
	if err != nil {
		return nil, nil, err
	}
	langs, err := ix.terms(fieldLang) // that there are pages in
	if err != nil {
		return nil, nil, err
	}
	needles, err := ix.needles(parsed, q.Same)
	return needles, langs, err
}

// Absent returns what q asks for and no page has, whatever its filters.
func (ix *Index) Absent(ctx context.Context, q Query) (out []string, err error) {
	err = ix.ask(func() error {
		needles, langs, err := ix.asked(q)
		if err != nil {
			return err
		}
		for _, n := range needles {
			u, common := ix.union(n, langs, "")
			if n.Without || n.Better || common || len(u) == 0 {
				continue
			}
			res, err := ix.bleve.SearchInContext(ctx, bleve.NewSearchRequestOptions(u, 0, 0, false))
			if err != nil {
				return err
			}
			if res.Total == 0 {
				out = append(out, n.Typed)
			}
		}
		return nil
	})
	return out, failed(err)
}

// fetch returns the hits of one stretch of the answer; more is false at its end.
func (ix *Index) fetch(ctx context.Context, asked query.Query, from, size int, find *needle.Finder, q Query) (hits []Hit, more bool, err error) {
	req := bleve.NewSearchRequestOptions(asked, size, from, false)
	req.Fields = []string{fieldText, fieldLayout, fieldLang}
	res, err := ix.bleve.SearchInContext(ctx, req)
	if err != nil {
		return nil, false, err
	}
	for _, m := range res.Hits {
		h, ok, err := ix.hit(m, find, q)
		if err != nil {
			return nil, false, err
		}
		if ok {
			hits = append(hits, h)
		}
	}
	return hits, len(res.Hits) == size, nil
}

// hit is false when the page's words are not in the only section asked for, or none
// is on the page itself.
func (ix *Index) hit(m *search.DocumentMatch, find *needle.Finder, q Query) (Hit, bool, error) {
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
	if q.Section != "" {
		found = slices.DeleteFunc(found, func(p needle.Place) bool { return passage.SectionAt(parts, p.Start) != q.Section })
	}
	out := Hit{Paper: m.ID[:cut], Page: number, Snippet: passage.Best(text, parts, found, worth), Found: passage.Spans(found), Score: m.Score}
	switch lacks := find.Lacking(found); {
	case q.Most:
		out.Lacks = lacks
		return out, len(found) > 0, nil
	case q.Section != "":
		return out, len(lacks) == 0, nil
	}
	return out, true, nil
}

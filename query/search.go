package query

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query/index"
	"hatchlore/query/index/passage"
	"hatchlore/species/witness"
)

// Search is a question about words. Fields that are empty ask for nothing.
type Search struct {
	Words    string // in the syntax of package question
	From, To int    // years of publication, both included
	Factor   string
	Paper    string
	Section  string // of the paper, by ingest's names
	Limit    int
}

// Hit is a page that answers a search.
type Hit struct {
	Paper   string   `json:"paper"`
	Source  string   `json:"source"`
	Page    int      `json:"page"`
	Section string   `json:"section"`
	Snippet string   `json:"snippet"`
	Marks   [][2]int `json:"marks"` // the words found, in code points of the snippet
	Score   float64  `json:"score"`

	Citation string `json:"citation"`

	// Before and After stand around a snippet that is cut out of a sentence.
	Before string `json:"-"`
	After  string `json:"-"`
}

// Search returns the pages that fit s, the best first. A genus also finds the
// abbreviated names of its species, and a name those that are read as it.
func (e *Engine) Search(ctx context.Context, s Search) ([]Hit, error) {
	same, err := e.same(ctx)
	if err != nil {
		return nil, err
	}
	hits, err := e.index.Search(ctx, index.Query{
		Words: s.Words, From: s.From, To: s.To, Factor: s.Factor, Paper: s.Paper,
		Section: ingest.Section(s.Section), Limit: s.Limit, Same: same,
	})
	if err != nil {
		return nil, err
	}
	cited, err := e.cited(ctx, hits)
	if err != nil {
		return nil, err
	}
	out := make([]Hit, 0, len(hits))
	for _, h := range hits {
		c, there := cited[h.Paper]
		if !there {
			continue // the index is behind: the paper has been removed
		}
		lib := witness.Library{c.Key: {Key: c.Key, Authors: c.Authors, Year: c.Year}}
		hit := Hit{
			Paper: h.Paper, Source: c.Source, Page: h.Page, Section: string(h.Snippet.Section),
			Snippet: h.Snippet.Text, Marks: marks(h.Snippet), Score: fourDigits(h.Score), Citation: lib.Cite(h.Paper),
		}
		if !h.Snippet.Opens {
			hit.Before = "… "
		}
		if !h.Snippet.Ends {
			hit.After = " …"
		}
		out = append(out, hit)
	}
	return out, nil
}

// cited returns what the papers of hits are cited by.
func (e *Engine) cited(ctx context.Context, hits []index.Hit) (map[string]store.Citation, error) {
	var keys []string
	for _, h := range hits {
		if !slices.Contains(keys, h.Paper) {
			keys = append(keys, h.Paper)
		}
	}
	return e.store.Citations(ctx, keys)
}

// Near returns names of taxa in the library that are one letter off a word of
// the question: what may have been meant when nothing was found.
func (e *Engine) Near(words string) ([]string, error) {
	var out []string
	for _, w := range strings.Fields(words) {
		like, err := e.index.NamesLike(strings.Trim(w, `"|-`))
		if err != nil {
			return nil, err
		}
		out = append(out, like...)
	}
	return out, nil
}

// marks turns byte spans into code points.
func marks(s passage.Snippet) [][2]int {
	out := make([][2]int, 0, len(s.Marks))
	for _, m := range s.Marks {
		start := utf8.RuneCountInString(s.Text[:m.Start])
		out = append(out, [2]int{start, start + utf8.RuneCountInString(s.Text[m.Start:m.End])})
	}
	return out
}

// same returns what tells the other names of an animal, by the keeper's
// aliases. Of a genus these are the other genera that its species are read
// from or as, and the names of those that moved alone.
func (e *Engine) same(ctx context.Context) (func(name string) []string, error) {
	aliases, err := e.store.Aliases(ctx)
	if err != nil || len(aliases) == 0 {
		return nil, err
	}
	names, err := resolver(aliases)
	if err != nil {
		return nil, err
	}
	return newSynonymy(names, aliases).of, nil
}

// fourDigits rounds a score to four significant digits: it orders the hits of one
// answer and measures nothing.
func fourDigits(score float64) float64 {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(score, 'g', 4, 64), 64)
	if err != nil {
		return score // one that is no number stays as it is
	}
	return rounded
}

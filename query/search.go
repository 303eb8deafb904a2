package query

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"
	"unicode"
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
	Section  string // of the paper, one of Sections
	Limit    int
}

// Sections are the parts of a paper in which a search can be held.
var Sections = []string{
	string(ingest.SectionAbstract), string(ingest.SectionIntroduction), string(ingest.SectionMethods),
	string(ingest.SectionResults), string(ingest.SectionDiscussion), string(ingest.SectionReferences),
}

// Answer is what was found, and what was not.
type Answer struct {
	Hits   []Hit
	Partly bool     // no page has all that was asked for; the hits are the pages that have the most
	Absent []string // words that no page of the library has, where nothing or no whole page was found
	Near   []Near   // names of the library that a word may have been meant for
}

// Short reports whether no page has all that was asked for.
func (a Answer) Short() bool { return a.Partly || len(a.Hits) == 0 }

// Missing is what a hit lacks beside what no page has at all.
func (a Answer) Missing(h Hit) []string {
	return slices.DeleteFunc(slices.Clone(h.Lacks), func(w string) bool { return slices.Contains(a.Absent, w) })
}

// Near is a name one letter off a word of a question.
type Near struct {
	Word  string // as typed
	Name  string
	Words string // the question put right with it
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
	Lacks   []string `json:"lacks"` // where no page has all that was asked for, what this one has not

	Citation string `json:"citation"`

	// Before and After stand around a snippet that is cut out of a sentence.
	Before string `json:"-"`
	After  string `json:"-"`
}

// Search returns the pages that fit s, the best first. A genus also finds the
// abbreviated names of its species, and a name those that are read as it.
func (e *Engine) Search(ctx context.Context, s Search) ([]Hit, error) {
	q, err := e.indexed(ctx, s)
	if err != nil {
		return nil, err
	}
	return e.hits(ctx, q)
}

// Answer is Search with what to make of it: where no page has all that was asked
// for, it finds those that have the most of it, and tells which words no page has;
// and names that a word may have been meant for.
func (e *Engine) Answer(ctx context.Context, s Search) (Answer, error) {
	var out Answer
	q, err := e.indexed(ctx, s)
	if err != nil {
		return out, err
	}
	if out.Hits, err = e.hits(ctx, q); err != nil {
		return out, err
	}
	if out.Near, err = e.near(s.Words); err != nil || len(out.Hits) > 0 {
		return out, err
	}
	if out.Absent, err = e.index.Absent(ctx, q); err != nil {
		return out, err
	}
	q.Most = true
	out.Hits, err = e.hits(ctx, q)
	out.Partly = len(out.Hits) > 0
	return out, err
}

// Found returns where on a page the words stand that were asked for, in bytes of its
// text.
func (e *Engine) Found(ctx context.Context, words, paper string, page int) ([]passage.Span, error) {
	q, err := e.indexed(ctx, Search{Words: words, Paper: paper, Limit: 1})
	if err != nil {
		return nil, err
	}
	q.Page, q.Most = page, true
	hits, err := e.index.Search(ctx, q)
	if err != nil || len(hits) == 0 {
		return nil, err
	}
	return hits[0].Found, nil
}

// indexed is s as the index takes it.
func (e *Engine) indexed(ctx context.Context, s Search) (index.Query, error) {
	same, err := e.same(ctx)
	return index.Query{Words: s.Words, From: s.From, To: s.To, Factor: s.Factor, Paper: s.Paper, Section: ingest.Section(s.Section), Limit: s.Limit, Same: same}, err
}

func (e *Engine) hits(ctx context.Context, q index.Query) ([]Hit, error) {
	hits, err := e.index.Search(ctx, q)
	if err != nil {
		return nil, err
	}
	cited, err := e.cited(ctx, hits)
	if err != nil {
		return nil, err
	}
	out := make([]Hit, 0, len(hits))
	for _, h := range hits {
		if c, there := cited[h.Paper]; there { // else the index is behind: the paper has been removed
			out = append(out, hitOf(h, c))
		}
	}
	return out, nil
}

func hitOf(h index.Hit, c store.Citation) Hit {
	lib := witness.Library{c.Key: {Key: c.Key, Authors: c.Authors, Year: c.Year}}
	out := Hit{
		Paper: h.Paper, Source: c.Source, Page: h.Page, Section: string(h.Snippet.Section), Snippet: h.Snippet.Text, Marks: marks(h.Snippet),
		Score: fourDigits(h.Score), Lacks: append([]string{}, h.Lacks...), Citation: lib.Cite(h.Paper),
	}
	if !h.Snippet.Opens {
		out.Before = "… "
	}
	if !h.Snippet.Ends {
		out.After = " …"
	}
	return out
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

// near returns the names of taxa in the library that are one letter off a word of
// the question and may have been meant. Each is offered with every other misspelt word
// put right as well.
func (e *Engine) near(words string) ([]Near, error) {
	var out []Near
	first := map[string]string{} // the first name for each word
	var failed error
	eachWord(words, func(w string) string {
		if _, again := first[w]; again || failed != nil {
			return w
		}
		like, err := e.index.NamesLike(w)
		failed = err
		for i, name := range like {
			out = append(out, Near{Word: w, Name: name})
			if i == 0 {
				first[w] = name
			}
		}
		return w
	})
	for i, n := range out {
		out[i].Words = eachWord(words, func(w string) string {
			if w == n.Word {
				return n.Name
			}
			return cmp.Or(first[w], w)
		})
	}
	return out, failed
}

// eachWord puts for each word of a question what f makes of it; the signs between
// words stay.
func eachWord(question string, f func(string) string) string {
	var b, word strings.Builder
	flush := func() {
		if word.Len() > 0 {
			b.WriteString(f(word.String()))
			word.Reset()
		}
	}
	for _, r := range question {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) {
			word.WriteRune(r)
			continue
		}
		flush()
		b.WriteRune(r)
	}
	flush()
	return b.String()
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

package literature

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/query"
	"hatchlore/query/web/literature/sheet"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// searchViews enters the search of pages.
func (s *section) searchViews() {
	s.Page("GET /search", s.search)
}

// mostHits is how many pages a search shows.
const mostHits = 40

// mostWords bounds a question.
const mostWords = 300

// searchPage is a question with its answer.
type searchPage struct {
	Words    string
	Search   query.Search
	Factors  []evidence.Measure // to choose from
	Sections []string
	From, To string // years, as typed
	Answer   query.Answer
	Hits     []hitView
	Problem  string   // why there is no answer, in one sentence; "" for none
	Unseen   []string // what could not be searched, where nothing has all that was asked for
}

// Asked reports whether there is a question.
func (p searchPage) Asked() bool { return p.Words != "" }

// Narrowed reports whether it asks for more than words.
func (p searchPage) Narrowed() bool {
	return p.From+p.To+p.Search.Factor+p.Search.Section != ""
}

// More reports whether there may be pages beyond those shown.
func (p searchPage) More() bool { return len(p.Hits) == mostHits }

// hitView is a page found, as the list shows it.
type hitView struct {
	query.Hit
	Pieces []sheet.Piece
	At     string
}

func (s *section) search(r *http.Request) (site.View, error) {
	page, err := asked(r.URL.Query())
	if err == nil && (page.Asked() || page.Narrowed()) {
		err = s.find(r, &page)
	}
	if err == nil && page.Asked() && page.Answer.Short() {
		page.Unseen, err = s.unseen(r.Context())
	}
	view := site.View{Name: "search", Title: "Search", Here: "search"}
	switch {
	case err == nil:
	case refuse.Status(err) == http.StatusBadRequest:
		view.Status, page.Problem = http.StatusBadRequest, err.Error() // shown where it can be mended
	default:
		return site.View{}, err
	}
	invented, err := s.inventedPapers(r.Context())
	if err != nil {
		return site.View{}, err
	}
	view.Invented = slices.ContainsFunc(page.Hits, func(h hitView) bool { return invented[h.Paper] })
	view.Data = page
	return view, nil
}

// asked reads the form, as far as it can be read.
func asked(q url.Values) (searchPage, error) {
	page := searchPage{Words: strings.TrimSpace(q.Get("words")), Factors: evidence.Measures(), Sections: query.Sections, From: q.Get("from"), To: q.Get("to")}
	page.Search = query.Search{Words: page.Words, Limit: mostHits, Factor: q.Get("factor"), Section: q.Get("section")}
	if n := utf8.RuneCountInString(page.Words); n > mostWords {
		return page, refuse.Wrong(fmt.Sprintf("a question has at most %d characters, not %d; shorten it", mostWords, n))
	}
	if _, ok := evidence.MeasureOf(evidence.Factor(page.Search.Factor)); page.Search.Factor != "" && !ok {
		return page, refuse.Wrong("there is no such factor to search by; choose one of the list")
	}
	if page.Search.Section != "" && !slices.Contains(query.Sections, page.Search.Section) {
		return page, refuse.Wrong("papers have no such part; choose one of the list")
	}
	var err error
	if page.Search.From, err = year(page.From); err != nil {
		return page, err
	}
	page.Search.To, err = year(page.To)
	return page, err
}

// find answers the question of a page.
func (s *section) find(r *http.Request, page *searchPage) error {
	return s.Search(r.Context(), func(e *query.Engine) error {
		var err error
		if page.Answer, err = e.Answer(r.Context(), page.Search); err != nil {
			return err
		}
		for _, h := range page.Answer.Hits {
			page.Hits = append(page.Hits, hitView{h, snippet(h), pageWith(h.Paper, h.Page, page.Words)})
		}
		return nil
	})
}

// unseen says what no search sees, in sentences: pages that nobody could read, papers
// whose text is not here, and those that are not in the index yet.
func (s *section) unseen(ctx context.Context) ([]string, error) {
	all, err := s.listings(ctx)
	if err != nil {
		return nil, err
	}
	unread, textless := 0, 0
	for _, p := range all {
		unread += p.How.Unread
		if p.State == store.NoFile && p.Pages == 0 {
			textless++
		}
	}
	var out []string
	for _, x := range []struct {
		n           int
		thing, what string
	}{
		{unread, "page", "could not be read"},
		{textless, "paper", "came from another library without text"},
		{s.Behind(), "paper", "cannot be found yet"},
	} {
		if x.n > 0 {
			out = append(out, trial.Plural(x.n, x.thing)+" "+x.what)
		}
	}
	return out, nil
}

// snippet cuts a hit's words out of its snippet; marks are in code points.
func snippet(h query.Hit) []sheet.Piece {
	var marks []sheet.Stretch
	for _, m := range h.Marks {
		marks = append(marks, sheet.Bytes(h.Snippet, m[0], m[1]))
	}
	return sheet.Pieces(h.Snippet, marks)
}

// year reads a year of publication; 0 is open.
func year(s string) (int, error) {
	if s == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > 9999 {
		return 0, refuse.Wrong("a year is a number, as 1987")
	}
	return n, nil
}

package literature

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/query"
	"hatchlore/query/web/address"
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
	Hits     []hitView
	Near     []string // names that may have been meant, where nothing was found
}

// Asked reports whether there is a question.
func (p searchPage) Asked() bool { return p.Words != "" }

// Narrowed reports whether it asks for more than words.
func (p searchPage) Narrowed() bool {
	return p.Search.From+p.Search.To > 0 || p.Search.Factor+p.Search.Section != ""
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
	q := r.URL.Query()
	words := strings.TrimSpace(q.Get("words"))
	if len(words) > mostWords {
		return site.View{}, refuse.Wrong(fmt.Sprintf("a question has at most %d characters; shorten it", mostWords))
	}
	ask := query.Search{Words: words, Limit: mostHits, Paper: q.Get("paper")}
	var err error
	if ask.From, err = year(q.Get("from")); err != nil {
		return site.View{}, err
	}
	if ask.To, err = year(q.Get("to")); err != nil {
		return site.View{}, err
	}
	if f := evidence.Factor(q.Get("factor")); f != "" {
		if _, ok := evidence.MeasureOf(f); !ok {
			return site.View{}, refuse.Wrong("there is no such factor to search by; choose one of the list")
		}
		ask.Factor = string(f)
	}
	if sec := q.Get("section"); sec != "" {
		if !slices.Contains(sections, sec) {
			return site.View{}, refuse.Wrong("papers have no such part; choose one of the list")
		}
		ask.Section = sec
	}
	page := searchPage{Words: words, Factors: evidence.Measures(), Sections: sections, Search: ask, From: q.Get("from"), To: q.Get("to")}
	if page.Asked() {
		if err := s.find(r, &page); err != nil {
			return site.View{}, err
		}
	}
	invented, err := s.inventedPapers(r.Context())
	if err != nil {
		return site.View{}, err
	}
	shows := slices.ContainsFunc(page.Hits, func(h hitView) bool { return invented[h.Paper] })
	return site.View{Name: "search", Title: "Search", Here: "search", Invented: shows, Data: page}, nil
}

// find answers the question of a page.
func (s *section) find(r *http.Request, page *searchPage) error {
	return s.Search(r.Context(), func(e *query.Engine) error {
		found, err := e.Search(r.Context(), page.Search)
		if err != nil {
			return err
		}
		if len(found) == 0 {
			page.Near, err = e.Near(page.Words)
			return err
		}
		for _, h := range found {
			page.Hits = append(page.Hits, hitView{h, snippet(h), address.Page(h.Paper, h.Page) + "?" + url.Values{"words": {page.Words}}.Encode()})
		}
		return nil
	})
}

// snippet cuts a hit's words out of its snippet; marks are in code points.
func snippet(h query.Hit) []sheet.Piece {
	var marks []sheet.Stretch
	for _, m := range h.Marks {
		marks = append(marks, sheet.Bytes(h.Snippet, m[0], m[1]))
	}
	return sheet.Pieces(h.Snippet, marks)
}

// sections are the parts of a paper in which a search can be held.
var sections = []string{
	string(ingest.SectionAbstract), string(ingest.SectionIntroduction), string(ingest.SectionMethods),
	string(ingest.SectionResults), string(ingest.SectionDiscussion), string(ingest.SectionReferences),
}

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

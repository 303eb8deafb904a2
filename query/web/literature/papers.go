package literature

import (
	"context"
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query/web/address"
	"hatchlore/query/web/site"
)

// paperViews enters the list of papers and the view of a page.
func (s *section) paperViews() {
	s.Tab("papers", address.Papers, "Papers")
	s.Page("GET /papers", s.paperList)
	s.Page("GET /papers/{key}", s.onePaper)
	s.Page("GET /papers/{key}/pages/{page}", s.showPage)
	s.File("GET /papers/{key}/pages/{page}/picture", s.picture)
}

func (s *section) listings(ctx context.Context) ([]store.Listing, error) {
	return site.Asked(ctx, s.Site, "papers", func(ctx context.Context) ([]store.Listing, error) {
		var out []store.Listing
		for p, err := range s.Store().Papers(ctx) {
			if err != nil {
				return nil, err
			}
			out = append(out, p)
		}
		return out, nil
	})
}

func (s *section) paperList(r *http.Request) (site.View, error) {
	all, err := s.listings(r.Context())
	if err != nil {
		return site.View{}, err
	}
	invented, err := s.inventedPapers(r.Context())
	if err != nil {
		return site.View{}, err
	}
	unread := 0
	var partly []store.Listing
	for _, p := range all {
		unread += p.How.Unread
		if p.How.Unread > 0 {
			partly = append(partly, p)
		}
	}
	from, err := strconv.Atoi(r.URL.Query().Get("from"))
	if err != nil || from < 1 || from > len(all) {
		from = 1
	}
	to := min(from+papersAPage-1, len(all))
	page := papersPage{Papers: all[min(from-1, len(all)):to], All: len(all), Unread: unread, Partly: partly,
		Steps: steps{Place: fmt.Sprintf("%d to %d of %d", from, to, len(all)), About: "More papers"}}
	if from > 1 {
		page.Steps.Previous = papersFrom(max(1, from-papersAPage))
	}
	if to < len(all) {
		page.Steps.Next = papersFrom(to + 1)
	}
	return site.View{Name: "papers", Title: "Papers", Here: "papers", Script: "sheet", Invented: len(invented) > 0, Data: page}, nil
}

// papersPage is the list of papers, or a stretch of it.
type papersPage struct {
	Papers []store.Listing
	All    int
	Unread int             // pages
	Partly []store.Listing // papers that have them
	Steps  steps
}

func papersFrom(n int) string { return fmt.Sprintf("%s?from=%d", address.Papers, n) }

// papersAPage is how many papers a page lists.
const papersAPage = 200

// readPage is how one page of a paper was read, and what it speaks of.
type readPage struct {
	Number  int
	How     ingest.How
	Why     string
	Claims  int
	Factors []factorCount
}

// factorCount is a factor with how many claims are on it.
type factorCount struct {
	Factor evidence.Factor
	Claims int
}

// factorsOf counts claims by factor, in the order in which they stand.
func factorsOf(claims []evidence.Claim) []factorCount {
	var out []factorCount
	for _, c := range claims {
		i := slices.IndexFunc(out, func(f factorCount) bool { return f.Factor == c.Factor })
		if i < 0 {
			i, out = len(out), append(out, factorCount{Factor: c.Factor})
		}
		out[i].Claims++
	}
	return out
}

// paperPage is a paper, page by page.
type paperPage struct {
	Paper store.Listing
	File  string
	Pages []readPage
}

func (s *section) onePaper(r *http.Request) (site.View, error) {
	key := r.PathValue("key")
	head, err := s.Store().Listing(r.Context(), key)
	if err != nil {
		return site.View{}, err
	}
	claims, err := s.paperClaims(r.Context(), key)
	if err != nil {
		return site.View{}, err
	}
	var pages []readPage
	for p, err := range s.Store().Pages(r.Context(), key) {
		if err != nil {
			return site.View{}, err
		}
		here := claimsOn(claims, p.Number)
		pages = append(pages, readPage{p.Number, p.How, p.Why, len(here), factorsOf(here)})
	}
	return site.View{Name: "paper", Title: head.Title, Here: "papers", Invented: s.Invented(head.Hash), Data: paperPage{head, filepath.Base(head.Source), pages}}, nil
}

// paperClaims returns the claims of a paper in the order of its pages, those
// that were rejected too.
func (s *section) paperClaims(ctx context.Context, key string) ([]evidence.Claim, error) {
	return site.Asked(ctx, s.Site, "claims of "+key, func(ctx context.Context) ([]evidence.Claim, error) {
		return s.Store().Claims(ctx, store.Filter{Paper: key, Rejected: true})
	})
}

func claimsOn(claims []evidence.Claim, page int) []evidence.Claim {
	var out []evidence.Claim
	for _, c := range claims {
		if c.Page == page {
			out = append(out, c)
		}
	}
	return out
}

// authors prints who wrote a paper, the first few of many.
func authors(all []string) string {
	const most = 4
	if len(all) > most {
		return strings.Join(all[:most-1], "; ") + " and others"
	}
	return strings.Join(all, "; ")
}

// language names the language of a paper, given by its code (ISO 639-1).
func language(code string) string {
	if name := map[string]string{"en": "English", "de": "German", "fr": "French", "es": "Spanish", "it": "Italian", "pt": "Portuguese"}[code]; name != "" {
		return name
	}
	return "in the language " + code
}

// howRead says in few words how a paper's pages were read.
func howRead(p store.Listing) string {
	if p.State == store.NoFile {
		return "known by citation, no file"
	}
	return p.How.Words("read as text", "read from pictures", "not read")
}

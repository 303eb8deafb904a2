package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query"
	"hatchlore/query/web/sheet"
)

// paperViews enters the list of papers and the view of a page.
func (s *Server) paperViews() {
	s.tab("papers", "/papers", "Papers")
	s.page("GET /papers", s.paperList)
	s.page("GET /papers/{key}", s.onePaper)
	s.page("GET /papers/{key}/pages/{page}", s.onePage)
	s.file("GET /papers/{key}/pages/{page}/picture", s.picture)
}

func paperAddress(key string) string { return "/papers/" + url.PathEscape(key) }

func pageAddress(key string, page int) string {
	return fmt.Sprintf("%s/pages/%d", paperAddress(key), page)
}

func (s *Server) listings(ctx context.Context) ([]store.Listing, error) {
	return asked(ctx, s, "papers", func(ctx context.Context) ([]store.Listing, error) {
		var out []store.Listing
		for p, err := range s.shelf.Store().Papers(ctx) {
			if err != nil {
				return nil, err
			}
			out = append(out, p)
		}
		return out, nil
	})
}

func (s *Server) paperList(r *http.Request) (view, error) {
	all, err := s.listings(r.Context())
	if err != nil {
		return view{}, err
	}
	invented, err := s.inventedPapers(r.Context())
	if err != nil {
		return view{}, err
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
	data := map[string]any{"Papers": all[min(from-1, len(all)):to], "All": len(all), "Unread": unread, "Partly": partly, "From": from, "To": to}
	if from > 1 {
		data["Previous"] = max(1, from-papersAPage)
	}
	if to < len(all) {
		data["Next"] = to + 1
	}
	return view{name: "papers", title: "Papers", here: "papers", script: "sheet", invented: len(invented) > 0, data: data}, nil
}

// papersAPage is how many papers a page lists.
const papersAPage = 200

// readPage is how one page of a paper was read.
type readPage struct {
	Number int
	How    ingest.How
	Why    string
	Claims []evidence.Claim
}

func (s *Server) onePaper(r *http.Request) (view, error) {
	key := r.PathValue("key")
	head, err := s.shelf.Store().Listing(r.Context(), key)
	if err != nil {
		return view{}, err
	}
	claims, err := s.paperClaims(r.Context(), key)
	if err != nil {
		return view{}, err
	}
	var pages []readPage
	for p, err := range s.shelf.Store().Pages(r.Context(), key) {
		if err != nil {
			return view{}, err
		}
		pages = append(pages, readPage{p.Number, p.How, p.Why, claimsOn(claims, p.Number)})
	}
	return view{name: "paper", title: head.Title, here: "papers", invented: s.shelf.Invented(head.Hash), data: map[string]any{
		"Paper": head, "File": filepath.Base(head.Source), "Pages": pages,
	}}, nil
}

// paperClaims returns the claims of a paper in the order of its pages, those
// that were rejected too.
func (s *Server) paperClaims(ctx context.Context, key string) ([]evidence.Claim, error) {
	return asked(ctx, s, "claims of "+key, func(ctx context.Context) ([]evidence.Claim, error) {
		return s.shelf.Store().Claims(ctx, store.Filter{Paper: key, Rejected: true})
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

// pageNumber reads the number of a page out of an address.
func pageNumber(r *http.Request) (int, error) {
	n, err := strconv.Atoi(r.PathValue("page"))
	if err != nil || n < 1 {
		return 0, store.ErrNoPage
	}
	return n, nil
}

func (s *Server) onePage(r *http.Request) (view, error) {
	key := r.PathValue("key")
	n, err := pageNumber(r)
	if err != nil {
		return view{}, err
	}
	head, err := s.shelf.Store().Listing(r.Context(), key)
	if err != nil {
		return view{}, err
	}
	page, err := s.shelf.Store().Page(r.Context(), key, n)
	if err != nil {
		return view{}, err
	}
	marks, err := s.wordsOn(r.Context(), r.URL.Query().Get("words"), key, page)
	if err != nil {
		return view{}, err
	}
	claims, err := s.paperClaims(r.Context(), key)
	if err != nil {
		return view{}, err
	}
	return view{name: "page", title: fmt.Sprintf("%s, page %d", head.Title, n), here: "papers", script: "sheet", wide: true,
		invented: s.shelf.Invented(head.Hash), data: map[string]any{
			"Paper": head, "Page": page, "Claims": claimsOn(claims, n), "Sheet": s.sheetOf(r, head, page, marks),
			"Before": n > 1, "After": n < head.Pages, "Words": r.URL.Query().Get("words"), "Number": n, "Next": n + 1, "Previous": n - 1,
		}}, nil
}

// wordsOn finds on a page the words that a search found there.
func (s *Server) wordsOn(ctx context.Context, words, key string, page ingest.Page) ([]sheet.Stretch, error) {
	if words == "" {
		return nil, nil
	}
	var found []string
	err := s.shelf.Search(ctx, func(e *query.Engine) error {
		hits, err := e.Search(ctx, query.Search{Words: words, Paper: key, Limit: mostPages})
		if err != nil {
			return err
		}
		for _, h := range hits {
			if h.Page == page.Number {
				found = markedWords(h)
			}
		}
		return nil
	})
	return sheet.Words(page.Text, found), err
}

// mostPages is more than the pages of any paper on which words are looked for.
const mostPages = 500

// markedWords are the words of a snippet that were found.
func markedWords(h query.Hit) []string {
	text := []rune(h.Snippet)
	var out []string
	for _, m := range h.Marks {
		out = append(out, sheet.Split(string(text[m[0]:m[1]]))...)
	}
	return out
}

// Zoom steps of a page picture: its width in the window and what it is drawn at.
var zooms = []int{110, 160, 220}

// sheetView is a page of a paper with marks, as the template shows it.
type sheetView struct {
	Picture       string // address; "" where there is none
	Why           string // why there is none
	Width, Height float64
	Boxes         []sheet.Box
	Pieces        []sheet.Piece
	Zoom          int // from 1
	Closer, Wider string
	Name          string // of the page, for who cannot see it
}

// pictureWait bounds how long a page waits for its picture; the text is there
// without.
const pictureWait = 8 * time.Second

func (s *Server) sheetOf(r *http.Request, head store.Listing, page ingest.Page, marks []sheet.Stretch) sheetView {
	v := sheetView{Pieces: sheet.Pieces(page.Text, marks), Zoom: zoomOf(r), Name: fmt.Sprintf("Page %d of %s", page.Number, head.Title)}
	ctx, cancel := context.WithTimeout(r.Context(), pictureWait)
	defer cancel()
	pic, err := s.draw(ctx, head, page.Number, v.Zoom)
	if err != nil {
		v.Why = err.Error()
		return v
	}
	v.Picture = fmt.Sprintf("%s/picture?zoom=%d", pageAddress(head.Paper, page.Number), v.Zoom)
	v.Width, v.Height = pic.Width, pic.Height
	for _, m := range marks {
		v.Boxes = append(v.Boxes, sheet.Boxes(page, m)...)
	}
	if v.Zoom < len(zooms) {
		v.Closer = zoomed(r, v.Zoom+1)
	}
	if v.Zoom > 1 {
		v.Wider = zoomed(r, v.Zoom-1)
	}
	return v
}

func zoomOf(r *http.Request) int {
	n, err := strconv.Atoi(r.URL.Query().Get("zoom"))
	if err != nil {
		return 1
	}
	return min(max(n, 1), len(zooms))
}

// zoomed is the address of this page at another zoom.
func zoomed(r *http.Request, zoom int) string {
	q := r.URL.Query()
	q.Set("zoom", strconv.Itoa(zoom))
	return r.URL.EscapedPath() + "?" + q.Encode()
}

func isPDF(source string) bool { return strings.EqualFold(filepath.Ext(source), ".pdf") }

var errNoPicture = errors.New("there is no picture of it: only a PDF has printed pages")

func (s *Server) draw(ctx context.Context, head store.Listing, page, zoom int) (sheet.Picture, error) {
	switch {
	case head.State == store.NoFile:
		return sheet.Picture{}, errors.New("there is no picture of it: the paper came from another library, without its file")
	case !isPDF(head.Source):
		return sheet.Picture{}, errNoPicture
	}
	pic, err := s.pictures.Get(ctx, sheet.Page{Hash: head.Hash, Path: head.Source, Page: page, DPI: zooms[zoom-1]})
	if errors.Is(err, sheet.ErrMoved) && !filepath.IsAbs(head.Source) {
		return pic, fmt.Errorf("%s is not there, seen from the folder in which this page was started; start it where the paper was ingested, or ingest the paper again from here", head.Source)
	}
	return pic, err
}

func (s *Server) picture(w http.ResponseWriter, r *http.Request) error {
	n, err := pageNumber(r)
	if err != nil {
		return err
	}
	head, err := s.shelf.Store().Listing(r.Context(), r.PathValue("key"))
	if err != nil {
		return err
	}
	tag := fmt.Sprintf(`"%s-%d-%d"`, head.Hash, n, zoomOf(r))
	w.Header().Set("Cache-Control", "private, no-cache")
	w.Header().Set("ETag", tag)
	if r.Header.Get("If-None-Match") == tag {
		w.WriteHeader(http.StatusNotModified)
		return nil
	}
	pic, err := s.draw(r.Context(), head, n, zoomOf(r))
	if err != nil {
		w.Header().Del("ETag")
		return err
	}
	w.Header().Set("Content-Type", "image/png")
	_, err = w.Write(pic.PNG)
	return err
}

package literature

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/literature/sheet"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// pageNumber reads the number of a page out of an address.
func pageNumber(r *http.Request) (int, error) {
	n, err := strconv.Atoi(r.PathValue("page"))
	if err != nil || n < 1 {
		return 0, store.ErrNoPage
	}
	return n, nil
}

func (s *section) showPage(r *http.Request) (site.View, error) {
	key := r.PathValue("key")
	n, err := pageNumber(r)
	if err != nil {
		return site.View{}, err
	}
	head, err := s.Store().Listing(r.Context(), key)
	if err != nil {
		return site.View{}, err
	}
	page, err := s.Store().Page(r.Context(), key, n)
	if err != nil {
		return site.View{}, err
	}
	marks, err := s.wordsOn(r.Context(), r.URL.Query().Get("words"), key, page)
	if err != nil {
		return site.View{}, err
	}
	claims, err := s.paperClaims(r.Context(), key)
	if err != nil {
		return site.View{}, err
	}
	words := r.URL.Query().Get("words")
	at := func(i int) string { return pageWith(key, i+1, words) }
	data := onePage{Paper: head, Page: page, Claims: claimsOn(claims, n), Sheet: s.sheetOf(r, head, page, marks), Words: words,
		Steps: steps{step(n-2, head.Pages, at), step(n, head.Pages, at), fmt.Sprintf("%d of %d", n, head.Pages), "Pages of this paper"}}
	return site.View{Name: "page", Title: fmt.Sprintf("%s, page %d", head.Title, n), Here: "papers", Script: "sheet", Wide: true,
		Invented: s.Invented(head.Hash), Data: data}, nil
}

// onePage is a page of a paper with what is claimed there.
type onePage struct {
	Paper  store.Listing
	Page   ingest.Page
	Claims []evidence.Claim
	Sheet  sheetView
	Words  string // that were searched
	Steps  steps
}

// pageWith is where a page is shown with the words of a search marked, if any.
func pageWith(key string, page int, words string) string {
	at := address.Page(key, page)
	if words != "" {
		at += "?" + url.Values{"words": {words}}.Encode()
	}
	return at
}

// wordsOn finds on a page the words that were searched. Words that ask for nothing
// mark nothing.
func (s *section) wordsOn(ctx context.Context, words, key string, page ingest.Page) ([]sheet.Stretch, error) {
	if words == "" {
		return nil, nil
	}
	var found []sheet.Stretch
	err := s.Search(ctx, func(e *query.Engine) error {
		spans, err := e.Found(ctx, words, key, page.Number)
		for _, at := range spans {
			found = append(found, sheet.Stretch{Start: at.Start, End: at.End})
		}
		return err
	})
	if refuse.Status(err) == http.StatusBadRequest {
		return nil, nil
	}
	return found, err
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

// Marked reports whether words are marked in the text.
func (v sheetView) Marked() bool {
	return slices.ContainsFunc(v.Pieces, func(p sheet.Piece) bool { return p.Marked })
}

func (s *section) sheetOf(r *http.Request, head store.Listing, page ingest.Page, marks []sheet.Stretch) sheetView {
	v := sheetView{Pieces: sheet.Pieces(page.Text, marks), Zoom: zoomOf(r), Name: fmt.Sprintf("Page %d of %s", page.Number, head.Title)}
	ctx, cancel := context.WithTimeout(r.Context(), pictureWait)
	defer cancel()
	pic, err := s.draw(ctx, head, page.Number, v.Zoom)
	if err != nil {
		v.Why = err.Error()
		return v
	}
	v.Picture = fmt.Sprintf("%s/picture?zoom=%d", address.Page(head.Paper, page.Number), v.Zoom)
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

func (s *section) draw(ctx context.Context, head store.Listing, page, zoom int) (sheet.Picture, error) {
	switch {
	case head.State == store.NoFile:
		return sheet.Picture{}, errors.New("there is no picture of it: the paper came from another library, without its file")
	case !isPDF(head.Source):
		return sheet.Picture{}, errNoPicture
	}
	return s.pictures.Get(ctx, sheet.Page{Hash: head.Hash, Page: page, DPI: zooms[zoom-1], File: func(ctx context.Context) (string, error) {
		return s.Store().File(ctx, head)
	}})
}

func (s *section) picture(w http.ResponseWriter, r *http.Request) error {
	n, err := pageNumber(r)
	if err != nil {
		return err
	}
	head, err := s.Store().Listing(r.Context(), r.PathValue("key"))
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

// Package webtest is the local page over a small library of invented papers, for
// tests of its views.
package webtest

import (
	"context"
	"errors"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query"
	"hatchlore/query/index"
	"hatchlore/query/web"
	"hatchlore/query/web/guard"
	"hatchlore/query/web/intake"
)

// Host is the address under which tests ask for the page.
const Host = "127.0.0.1:8460"

// Page is the local page of a library.
type Page struct {
	*web.Server
	Store *store.Store
	Token string           // of its forms
	Now   func() time.Time // its clock
}

// New is the page of the invented papers.
func New(t testing.TB) *Page {
	t.Helper()
	dir := t.TempDir()
	st, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	ix, err := index.Create(filepath.Join(dir, index.DirName))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := errors.Join(ix.Close(), st.Close()); err != nil {
			t.Error(err)
		}
	})
	for i, p := range Papers {
		putPaper(t, st, ix, i, p)
	}
	if err := ix.Flush(t.Context()); err != nil {
		t.Fatal(err)
	}
	return Over(t, st, ix)
}

// Over is the page of a library, which outlives it.
func Over(t testing.TB, st *store.Store, ix *index.Index) *Page {
	t.Helper()
	p := &Page{Store: st, Now: time.Now}
	var err error
	p.Server, err = web.New(&shelf{st, ix}, web.Options{Hosts: []string{Host}, Pictures: filepath.Join(st.Dir(), "pages"), Now: func() time.Time { return p.Now() }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.Close)
	token := regexp.MustCompile(`name="token" value="([^"]+)"`).FindStringSubmatch(p.Get("/add").Body.String())
	if token == nil {
		t.Fatal("the form for papers has no token")
	}
	p.Token = token[1]
	return p
}

// Get asks for an address as a browser on this machine does.
func (p *Page) Get(at string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodGet, at, nil)
	r.Host = Host
	w := httptest.NewRecorder()
	p.ServeHTTP(w, r)
	return w
}

// Post sends a form as one of the page's own does.
func (p *Page) Post(at string, fields url.Values) *httptest.ResponseRecorder {
	fields.Set(guard.TokenField, p.Token)
	r := httptest.NewRequest(http.MethodPost, at, strings.NewReader(fields.Encode()))
	r.Host = Host
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://"+Host)
	w := httptest.NewRecorder()
	p.ServeHTTP(w, r)
	return w
}

// ClaimOn returns the first claim of a paper on a factor.
func (p *Page) ClaimOn(t testing.TB, paper string, f evidence.Factor) evidence.Claim {
	t.Helper()
	claims, err := p.Store.Claims(t.Context(), store.Filter{Paper: paper, Factors: []evidence.Factor{f}, Rejected: true})
	if err != nil || len(claims) == 0 {
		t.Fatalf("%s, %s: %d claims, %v", paper, f, len(claims), err)
	}
	return claims[0]
}

// shelf is a library of invented papers.
type shelf struct {
	store *store.Store
	index *index.Index
}

func (s *shelf) Store() *store.Store    { return s.store }
func (s *shelf) Answers() *query.Engine { return query.New(s.store, nil) }
func (s *shelf) Search(_ context.Context, use func(*query.Engine) error) error {
	return use(query.New(s.store, s.index))
}
func (s *shelf) Behind() int { return 0 }
func (s *shelf) Picture(context.Context, string, int, int) ([]byte, error) {
	return nil, errors.New("there are no pictures in this test")
}
func (s *shelf) WriteSheet(_ context.Context, w io.Writer, taxon, paper string) error {
	_, err := fmt.Fprintf(w, "<style>@page { size: %s }</style><h1>%s</h1>", paper, html.EscapeString(taxon))
	return err
}
func (s *shelf) WriteParcel(_ context.Context, w io.Writer, private bool) error {
	_, err := fmt.Fprintf(w, "a parcel, private %v", private)
	return err
}
func (s *shelf) Invented(string) bool       { return false }
func (s *shelf) InventedNote(string) string { return "" }
func (s *shelf) Kinds() []string            { return []string{".pdf", ".txt"} }

// Add takes every file but one that says that it is no paper.
func (s *shelf) Add(_ context.Context, paths []string, report func(intake.Outcome)) error {
	for _, p := range paths {
		data, err := os.ReadFile(p)
		switch {
		case err != nil:
			return err
		case strings.Contains(string(data), "no paper"):
			report(intake.Outcome{Path: p, State: "refused", Why: "is not a PDF, whatever its name says"})
		default:
			report(intake.Outcome{Path: p, State: "added", Taken: true, Paper: "alder1960", Pages: 1})
		}
	}
	return nil
}

func num(v float64) *float64 { return &v }

// Hostile is what a PDF may bring in any of its words.
const Hostile = `<script>alert("x")</script><img src=x onerror=alert(1)>"'><svg/onload=alert(2)> javascript:alert(3)`

// Paper is a paper of one page with its claims, found by their quotes.
type Paper struct {
	Key, Author, Title, Text string
	Claims                   []evidence.Claim
}

// Papers are the library.
var Papers = []Paper{
	{"alder1960", "Alder, Jo", "On eggs", "Eggs of Ficta umbrosa came from North Fen. They hatched at 8 °C. The eggs must dry before they hatch.",
		[]evidence.Claim{
			{Quote: "They hatched at 8 °C", Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: num(8), High: num(8), Unit: "degC", Printed: "8 °C"},
			{Quote: "The eggs must dry", Factor: evidence.Drying, Bearing: evidence.Favours, Category: "required"},
		}},
	{"birch1975", "Birch, Ann", "More on eggs", "Mud with eggs of F. umbrosa came from South Heath. No drying was needed for hatching at 12 to 15 °C in the moss.",
		[]evidence.Claim{
			{Quote: "No drying was needed", Factor: evidence.Drying, Bearing: evidence.Indifferent, Category: "not-required"},
			{Quote: "hatching at 12 to 15 °C", Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: num(12), High: num(15), Unit: "degC", Printed: "12 to 15 °C"},
		}},
	{"mallory1999", Hostile + ", M.", Hostile, "Eggs " + Hostile + " hatched at 4 °C.",
		[]evidence.Claim{
			{Quote: Hostile + " hatched at 4 °C", Taxon: Hostile, TaxonPrinted: Hostile, Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: num(4), High: num(4),
				Unit: "degC", Printed: Hostile, Secondhand: true, Cited: Hostile, Section: Hostile, Rule: Hostile},
		}},
}

func putPaper(t testing.TB, st *store.Store, ix *index.Index, i int, p Paper) {
	t.Helper()
	page := ingest.Page{Number: 1, How: ingest.ByText, Text: p.Text,
		Blocks: []ingest.Block{{Kind: ingest.Paragraph, Section: ingest.SectionResults, End: len(p.Text)}}}
	hash := fmt.Sprintf("%064d", i)
	claims := append([]evidence.Claim(nil), p.Claims...)
	for j := range claims {
		c := &claims[j]
		c.Page, c.Start, c.Score = 1, utf8.RuneCountInString(p.Text[:strings.Index(p.Text, c.Quote)]), 0.9
		c.End = c.Start + utf8.RuneCountInString(c.Quote)
		if c.Taxon == "" {
			c.Taxon = "Ficta umbrosa"
		}
		c.ID = c.MakeID(hash)
	}
	stored := store.Paper{Key: p.Key, Hash: hash, Source: "/papers/" + p.Title + ".txt", Format: "txt", Title: p.Title,
		Authors: []string{p.Author}, Year: 1960 + i, Lang: "en", Pages: []ingest.Page{page}}
	if _, err := st.Put(t.Context(), stored, claims); err != nil {
		t.Fatal(err)
	}
	if err := ix.Put(t.Context(), index.Paper{Key: p.Key, Stamp: "1", Title: p.Title, Lang: "en", Pages: []index.Page{{Page: page, Taxa: []string{"Ficta umbrosa"}}}}); err != nil {
		t.Fatal(err)
	}
}

package web

import (
	"context"
	"errors"
	"fmt"
	"html"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query"
	"hatchlore/query/index"
)

// testHost is the address under which tests ask for the page.
const testHost = "127.0.0.1:8460"

// testShelf is a library of invented papers.
type testShelf struct {
	store *store.Store
	index *index.Index
}

func (s *testShelf) Store() *store.Store    { return s.store }
func (s *testShelf) Answers() *query.Engine { return query.New(s.store, nil) }
func (s *testShelf) Search(_ context.Context, use func(*query.Engine) error) error {
	return use(query.New(s.store, s.index))
}
func (s *testShelf) Picture(context.Context, string, int, int) ([]byte, error) {
	return nil, errors.New("there are no pictures in this test")
}
func (s *testShelf) Invented(string) bool       { return false }
func (s *testShelf) InventedNote(string) string { return "" }
func (s *testShelf) Kinds() []string            { return []string{".pdf", ".txt"} }

// Add takes every file but one that says that it is no paper.
func (s *testShelf) Add(_ context.Context, paths []string, report func(Outcome)) error {
	for _, p := range paths {
		data, err := os.ReadFile(p)
		switch {
		case err != nil:
			return err
		case strings.Contains(string(data), "no paper"):
			report(Outcome{Path: p, State: "refused", Why: "is not a PDF, whatever its name says"})
		default:
			report(Outcome{Path: p, State: "added", Taken: true, Paper: "alder1960", Pages: 1})
		}
	}
	return nil
}

func num(v float64) *float64 { return &v }

// hostile is what a PDF may bring in any of its words.
const hostile = `<script>alert("x")</script><img src=x onerror=alert(1)>"'><svg/onload=alert(2)> javascript:alert(3)`

// testPaper is a paper of one page, and its claims by their quotes.
type testPaper struct {
	key, author, title, text string
	claims                   []evidence.Claim
}

var testPapers = []testPaper{
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
	{"mallory1999", hostile + ", M.", hostile, "Eggs " + hostile + " hatched at 4 °C.",
		[]evidence.Claim{
			{Quote: hostile + " hatched at 4 °C", Taxon: hostile, TaxonPrinted: hostile, Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: num(4), High: num(4),
				Unit: "degC", Printed: hostile, Secondhand: true, Cited: hostile, Section: hostile, Rule: hostile},
		}},
}

// testServer is a server over the invented papers.
func testServer(t testing.TB) (*Server, *testShelf) {
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
	for i, p := range testPapers {
		putPaper(t, st, ix, i, p)
	}
	if err := ix.Flush(t.Context()); err != nil {
		t.Fatal(err)
	}
	shelf := &testShelf{st, ix}
	s, err := New(shelf, Options{Hosts: []string{testHost}, Pictures: filepath.Join(dir, "pages")})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return s, shelf
}

func putPaper(t testing.TB, st *store.Store, ix *index.Index, i int, p testPaper) {
	t.Helper()
	page := ingest.Page{Number: 1, How: ingest.ByText, Text: p.text,
		Blocks: []ingest.Block{{Kind: ingest.Paragraph, Section: ingest.SectionResults, End: len(p.text)}}}
	hash := fmt.Sprintf("%064d", i)
	claims := append([]evidence.Claim(nil), p.claims...)
	for j := range claims {
		c := &claims[j]
		c.Page, c.Start, c.Score = 1, utf8.RuneCountInString(p.text[:strings.Index(p.text, c.Quote)]), 0.9
		c.End = c.Start + utf8.RuneCountInString(c.Quote)
		if c.Taxon == "" {
			c.Taxon = "Ficta umbrosa"
		}
		c.ID = c.MakeID(hash)
	}
	stored := store.Paper{Key: p.key, Hash: hash, Source: "/papers/" + p.title + ".txt", Format: "txt", Title: p.title,
		Authors: []string{p.author}, Year: 1960 + i, Lang: "en", Pages: []ingest.Page{page}}
	if _, err := st.Put(t.Context(), stored, claims); err != nil {
		t.Fatal(err)
	}
	if err := ix.Put(t.Context(), index.Paper{Key: p.key, Stamp: "1", Title: p.title, Lang: "en", Pages: []index.Page{{Page: page, Taxa: []string{"Ficta umbrosa"}}}}); err != nil {
		t.Fatal(err)
	}
}

// get asks for an address as a browser on this machine does.
func get(s *Server, at string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodGet, at, nil)
	r.Host = testHost
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

// post sends a form as one of the server's own pages does.
func post(s *Server, at string, fields url.Values) *httptest.ResponseRecorder {
	fields.Set(tokenField, s.token)
	r := httptest.NewRequest(http.MethodPost, at, strings.NewReader(fields.Encode()))
	r.Host = testHost
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://"+testHost)
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

func TestSpecies(t *testing.T) {
	s, _ := testServer(t)
	list := get(s, "/").Body.String()
	if !strings.Contains(list, `<a href="/species/Ficta%20umbrosa">`) {
		t.Errorf("the list lacks the species:\n%s", list)
	}
	page := get(s, "/species/f.%20umbrosa")
	for _, want := range []string{"Ficta umbrosa", "Alder 1960", "They hatched at 8 °C", "Must the eggs dry", "Before you act", "permit", `role="img" aria-label="12–15 °C, favours"`} {
		if !strings.Contains(html.UnescapeString(page.Body.String()), want) {
			t.Errorf("the species' page lacks %q", want)
		}
	}
	if warm := get(s, "/species/Ficta%20umbrosa?degrees=degF"); !strings.Contains(warm.Body.String(), "46.4 °F") {
		t.Error("8 °C is not shown as 46.4 °F")
	}
	if none := get(s, "/species/Ficto%20umbrosa"); none.Code != http.StatusNotFound || !strings.Contains(none.Body.String(), "Ficta umbrosa") {
		t.Errorf("a misspelt name: status %d, or the near name is not offered", none.Code)
	}
}

// A change of the library shows at once, although answers are kept.
func TestKeptAnswersFollowTheLibrary(t *testing.T) {
	s, shelf := testServer(t)
	before := get(s, "/species/Ficta%20umbrosa").Body.String()
	claims, err := shelf.store.Claims(t.Context(), store.Filter{Taxa: []string{"Ficta umbrosa"}, Factors: []evidence.Factor{evidence.WarmTemperature}})
	if err != nil || len(claims) != 2 {
		t.Fatalf("%d claims, %v", len(claims), err)
	}
	for _, c := range claims {
		if _, err := shelf.store.Decide(t.Context(), c.ID, store.Decision{Verdict: evidence.Rejected}); err != nil {
			t.Fatal(err)
		}
	}
	after := get(s, "/species/Ficta%20umbrosa").Body.String()
	if !strings.Contains(before, "They hatched at 8") || strings.Contains(after, "They hatched at 8") {
		t.Error("a rejected claim is still shown")
	}
}

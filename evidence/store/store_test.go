package store

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"hatchlore/evidence"
	"hatchlore/ingest"
)

var ctx = context.Background()

func open(t *testing.T, dir string) *Store {
	t.Helper()
	s, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func num(v float64) *float64 { return &v }

// page returns a page of invented text with lines, blocks and marks.
func page(n int, text string) ingest.Page {
	cut := strings.IndexByte(text, ' ')
	return ingest.Page{
		Number: n, How: ingest.ByText, Text: text,
		Lines: []ingest.Line{{Start: 0, End: len(text), X: 72.25, Y: 90.5, Width: 300.12, Size: 10, Bold: n == 1}},
		Blocks: []ingest.Block{
			{Kind: ingest.Heading, Section: ingest.SectionMethods, Start: 0, End: cut},
			{Kind: ingest.Table, Section: ingest.SectionResults, Start: cut + 1, End: len(text), Rows: []ingest.Row{
				{Head: true, Cells: []ingest.Cell{{Start: cut + 1, End: cut + 2}, {Start: cut + 2, End: cut + 2}}},
				{Cells: []ingest.Cell{{Start: cut + 2, End: cut + 3}}}}},
		},
		Marks: []ingest.Mark{{Start: 0, End: 1, Kind: ingest.Inferred, Raw: "�"}},
	}
}

// paper returns an invented paper; seed varies its hash and key.
func paper(seed int, texts ...string) Paper {
	p := Paper{
		Key: fmt.Sprintf("ficta%d", 1900+seed), Hash: fmt.Sprintf("%064x", seed), Source: fmt.Sprintf("papers/ficta-%d.pdf", seed), Size: 1234, Format: "pdf",
		Title: "Eggs of an invented shrimp", Authors: []string{"Ficta, A.", "Übel, Ö."}, Year: 1900 + seed, Journal: "Invented Waters", Volume: "7", Extent: "1–9", DOI: "10.0000/invented", Lang: "en", Engine: "pdfium",
		Ingested: time.UnixMilli(1_700_000_000_123).UTC(), Reader: "1", Rules: "1",
	}
	for i, text := range texts {
		p.Pages = append(p.Pages, page(i+1, text))
	}
	return p
}

// claim returns a claim over quote on a page of p.
func claim(t *testing.T, p Paper, n int, quote string, f evidence.Factor, low float64) evidence.Claim {
	t.Helper()
	text := p.Pages[n-1].Text
	i := strings.Index(text, quote)
	if i < 0 {
		t.Fatalf("%q is not on page %d", quote, n)
	}
	start := utf8.RuneCountInString(text[:i])
	c := evidence.Claim{Source: p.Source, Paper: p.Key, Page: n, Start: start, End: start + utf8.RuneCountInString(quote), Quote: quote,
		Section: "results", Taxon: "Branchinella ficta", TaxonPrinted: "B. ficta", Stage: evidence.StageHatching, Factor: f, Bearing: evidence.Favours,
		Low: num(low), High: num(low), Unit: f.Unit(), Printed: quote, Rule: "r1", Score: 0.5}
	c.ID = c.MakeID(p.Hash)
	return c
}

const (
	textA = "Methods Cysts of B. ficta lay at 4 °C for 30 days and hatched at 15 °C."
	textB = "Results After 60 days in the cold 80 % hatched; after drying for 14 days none did."
)

// sample returns a paper of two pages with three claims.
func sample(t *testing.T, seed int) (Paper, []evidence.Claim) {
	p := paper(seed, textA, textB)
	return p, []evidence.Claim{
		claim(t, p, 1, "30 days", evidence.ColdLength, 30),
		claim(t, p, 1, "15 °C", evidence.WarmTemperature, 15),
		claim(t, p, 2, "60 days", evidence.ColdLength, 60),
	}
}

func store(t *testing.T, s *Store, p Paper, claims []evidence.Claim) Stored {
	t.Helper()
	out, err := s.Put(ctx, p, claims)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestRoundTrip(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	p, claims := sample(t, 1)
	p.Pages[1].How, p.Pages[1].Why = ingest.Unread, "a picture without text"
	if got := store(t, s, p, claims); got.Change != Added || got.Key != p.Key {
		t.Errorf("first Put: %+v", got)
	}
	s.Close()

	s = open(t, dir)
	p.State = Partly
	got, err := s.Paper(ctx, p.Key)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p, got); d != "" {
		t.Errorf("paper differs (-put +got):\n%s", d)
	}
	gotClaims, err := s.Claims(ctx, Filter{})
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(claims, gotClaims); d != "" {
		t.Errorf("claims differ (-put +got):\n%s", d)
	}
	one, err := s.Page(ctx, p.Key, 2)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(p.Pages[1], one); d != "" {
		t.Errorf("page differs (-put +got):\n%s", d)
	}
	for l, err := range s.Papers(ctx) {
		if err != nil {
			t.Fatal(err)
		}
		if l.Pages != 2 || l.How != (HowRead{Text: 1, Unread: 1}) || l.Claims != 3 || l.State != Partly || l.Paper != p.Key {
			t.Errorf("listing: %+v", l)
		}
	}
	if l, err := s.Listing(ctx, p.Key); l.Pages != 2 || l.Title != p.Title || l.Digest == "" || err != nil {
		t.Errorf("one listing: %+v %v", l, err)
	}
	if _, err := s.Listing(ctx, "nobody"); !errors.Is(err, ErrNoPaper) {
		t.Errorf("listing of no paper: %v", err)
	}
	if key, ok, err := s.Has(ctx, p.Hash); key != p.Key || !ok || err != nil {
		t.Errorf("Has: %q %v %v", key, ok, err)
	}
	if _, ok, _ := s.Has(ctx, "none"); ok {
		t.Error("Has finds a file that was never stored")
	}
}

// A bibliography of damaged and hostile texts must come back byte by byte.
func TestPackedTexts(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	noise := make([]byte, 5000)
	for i := range noise {
		noise[i] = byte(rnd.Uint32())
	}
	s := open(t, t.TempDir())
	texts := []string{"", "x", string(noise), strings.Repeat("eggs ", 100_000), "\x00\xff�µ", "Ω 15 °C"}
	p := Paper{Key: "k", Hash: "h"}
	for i, text := range texts {
		p.Pages = append(p.Pages, ingest.Page{Number: i + 1, How: ingest.ByText, Text: text})
	}
	store(t, s, p, nil)
	n := 0
	for got, err := range s.Pages(ctx, "k") {
		if err != nil {
			t.Fatal(err)
		}
		if got.Text != texts[n] {
			t.Errorf("page %d: text differs", n+1)
		}
		n++
	}
	if n != len(texts) {
		t.Errorf("%d pages, want %d", n, len(texts))
	}
}

func TestPutAgain(t *testing.T) {
	dir := t.TempDir()
	s := open(t, dir)
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	size := func() int64 {
		st, err := os.Stat(filepath.Join(dir, FileName+"-wal"))
		if err != nil {
			t.Fatal(err)
		}
		return st.Size()
	}
	before := size()
	again := p
	again.Ingested = p.Ingested.Add(time.Hour)
	if got := store(t, s, again, claims); got.Change != Unchanged || got.Key != p.Key {
		t.Errorf("the same reading: %+v", got)
	}
	if size() != before {
		t.Error("an unchanged paper was written")
	}
	p.Rules, p.Pages = "2", p.Pages[:1]
	if got := store(t, s, p, claims[:1]); got.Change != Replaced {
		t.Errorf("a new reading: %+v", got)
	}
	c, err := s.Counts(ctx)
	if want := (Counts{Papers: 1, Pages: 1, Claims: 1}); c != want || err != nil {
		t.Errorf("counts %+v %v, want %+v", c, err, want)
	}
}

func TestKeysStayUnique(t *testing.T) {
	s := open(t, t.TempDir())
	var got []string
	for i := range 28 {
		p := paper(i)
		p.Key = "ficta2001"
		got = append(got, store(t, s, p, nil).Key)
	}
	for i, want := range map[int]string{0: "ficta2001", 1: "ficta2001a", 26: "ficta2001z", 27: "ficta2001aa"} {
		if got[i] != want {
			t.Errorf("paper %d has key %s, want %s", i, got[i], want)
		}
	}
}

func TestFilters(t *testing.T) {
	s := open(t, t.TempDir())
	for seed := range 3 {
		p, claims := sample(t, seed+1)
		claims[1].Taxon = fmt.Sprintf("Chirocephalus fictus %d", seed)
		claims[2].Secondhand = true
		store(t, s, p, claims)
	}
	for _, tt := range []struct {
		name string
		f    Filter
		want int
	}{
		{"all", Filter{}, 9},
		{"one taxon", Filter{Taxa: []string{"Branchinella ficta"}}, 6},
		{"two taxa", Filter{Taxa: []string{"Branchinella ficta", "Chirocephalus fictus 1"}}, 7},
		{"taxon with a quote", Filter{Taxa: []string{`O'Brien "x"`}}, 0},
		{"factor", Filter{Factors: []evidence.Factor{evidence.WarmTemperature}}, 3},
		{"taxon and factor", Filter{Taxa: []string{"Branchinella ficta"}, Factors: []evidence.Factor{evidence.WarmTemperature}}, 0},
		{"paper", Filter{Paper: "ficta1902"}, 3},
		{"page", Filter{Paper: "ficta1902", Page: 2}, 1},
		{"no such paper", Filter{Paper: "nobody"}, 0},
	} {
		got, err := s.Claims(ctx, tt.f)
		if err != nil || len(got) != tt.want {
			t.Errorf("%s: %d claims, %v, want %d", tt.name, len(got), err, tt.want)
		}
	}
	taxa, err := s.TaxonNames(ctx)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]string{"Branchinella ficta", "Chirocephalus fictus 0", "Chirocephalus fictus 1", "Chirocephalus fictus 2"}, taxa); d != "" {
		t.Errorf("taxa (-want +got):\n%s", d)
	}
}

func TestRemove(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	if err := s.Remove(ctx, p.Key); err != nil {
		t.Fatal(err)
	}
	if c, err := s.Counts(ctx); c != (Counts{}) || err != nil {
		t.Errorf("after removal: %+v %v", c, err)
	}
	if err := s.Remove(ctx, p.Key); err == nil || !strings.Contains(err.Error(), "no such paper") {
		t.Errorf("removing again: %v", err)
	}
	if faults, err := s.Faults(ctx); len(faults) > 0 || err != nil {
		t.Errorf("faults %v %v", faults, err)
	}
}

func TestMend(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	other := paper(2)
	store(t, s, other, nil)
	if err := s.Mend(ctx, p.Key, Record{Key: other.Key}); err == nil {
		t.Error("a key of another paper was taken")
	}
	mended := Record{Key: "besser1999", Title: "Better", Authors: []string{"Besser, C."}, Year: 1999, DOI: "10.0000/b"}
	if err := s.Mend(ctx, p.Key, mended); err != nil {
		t.Fatal(err)
	}
	if got := store(t, s, p, claims); got.Change != Unchanged || got.Key != "besser1999" {
		t.Errorf("ingesting again after mending: %+v", got)
	}
	p.Rules = "2"
	store(t, s, p, claims)
	got, err := s.Head(ctx, "besser1999")
	if err != nil || got.Title != "Better" || got.Year != 1999 || got.Authors[0] != "Besser, C." || got.Rules != "2" {
		t.Errorf("a new reading undid the keeper's record: %+v %v", got, err)
	}
	if cs, _ := s.Claims(ctx, Filter{Paper: "besser1999"}); len(cs) != 3 || cs[0].Paper != "besser1999" {
		t.Errorf("claims do not follow the new key: %v", cs)
	}
}

func TestBackup(t *testing.T) {
	s := open(t, t.TempDir())
	p, claims := sample(t, 1)
	store(t, s, p, claims)
	dir := t.TempDir()
	path := filepath.Join(dir, FileName)
	if err := s.Backup(ctx, path); err != nil {
		t.Fatal(err)
	}
	if err := s.Backup(ctx, path); err == nil {
		t.Error("a copy was written over a file")
	}
	c, err := open(t, dir).Counts(ctx)
	if want := (Counts{Papers: 1, Pages: 2, Claims: 3}); c != want || err != nil {
		t.Errorf("the copy holds %+v %v, want %+v", c, err, want)
	}
}

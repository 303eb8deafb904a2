package query

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/ingest"
	"hatchlore/query/index"
	"hatchlore/species/conflict"
	"hatchlore/species/taxonomy"
)

// An invented paper of one page, with claims on parts of its text.
type paper struct {
	key, author string
	year        int
	text        string
	claims      []evidence.Claim
}

func num(v float64) *float64 { return &v }

func claim(quote string, c evidence.Claim) evidence.Claim {
	c.Quote, c.Taxon, c.Score = quote, "Ficta umbrosa", 0.9
	return c
}

var papers = []paper{
	{"alder1960", "Alder, Jo", 1960, "Eggs of Ficta umbrosa were collected from North Fen. They hatched at 8 °C. The eggs must dry before they hatch.",
		[]evidence.Claim{
			claim("They hatched at 8 °C", evidence.Claim{Factor: evidence.WarmTemperature, Bearing: evidence.Favours, Low: num(8), High: num(8), Unit: "degC", Printed: "8 °C"}),
			claim("The eggs must dry", evidence.Claim{Factor: evidence.Drying, Bearing: evidence.Favours, Category: "required"}),
		}},
	{"birch1975", "Birch, Ann", 1975, "Mud with eggs of F. umbrosa came from South Heath. No drying was needed for hatching at 9 °C in the moss.",
		[]evidence.Claim{
			claim("No drying was needed", evidence.Claim{Factor: evidence.Drying, Bearing: evidence.Indifferent, Category: "not-required"}),
		}},
}

// engine is an Engine over the invented papers.
func engine(t *testing.T) *Engine {
	t.Helper()
	dir := t.TempDir()
	s, err := store.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	ix, err := index.Create(filepath.Join(dir, index.DirName))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := errors.Join(ix.Close(), s.Close()); err != nil {
			t.Error(err)
		}
	})
	for i, p := range papers {
		page := ingest.Page{Number: 1, How: ingest.ByText, Text: p.text,
			Blocks: []ingest.Block{{Kind: ingest.Paragraph, Section: ingest.SectionResults, End: len(p.text)}}}
		hash := fmt.Sprintf("%064d", i)
		for j := range p.claims {
			c := &p.claims[j]
			c.Page, c.Start = 1, utf8.RuneCountInString(p.text[:strings.Index(p.text, c.Quote)])
			c.End = c.Start + utf8.RuneCountInString(c.Quote)
			c.ID = c.MakeID(hash)
		}
		if _, err := s.Put(t.Context(), store.Paper{Key: p.key, Hash: hash, Source: p.key + ".txt", Format: "txt", Title: "On eggs",
			Authors: []string{p.author}, Year: p.year, Lang: "en", Pages: []ingest.Page{page}}, p.claims); err != nil {
			t.Fatal(err)
		}
		if err := ix.Put(t.Context(), index.Paper{Key: p.key, Stamp: "1", Title: "On eggs", Year: p.year, Lang: "en",
			Pages: []index.Page{{Page: page, Taxa: []string{"Ficta umbrosa"}}}}); err != nil {
			t.Fatal(err)
		}
	}
	if err := ix.Flush(t.Context()); err != nil {
		t.Fatal(err)
	}
	return New(s, ix)
}

func TestEvidence(t *testing.T) {
	e := engine(t)
	all, err := e.Evidence(t.Context(), "f. umbrosa", false, nil)
	if err != nil || all.Taxon != "Ficta umbrosa" || len(all.Rows) != 3 || all.Papers != 2 {
		t.Fatalf("%+v, %v", all, err)
	}
	dry, err := e.Evidence(t.Context(), "Ficta", false, []evidence.Factor{evidence.Drying})
	if err != nil || len(dry.Rows) != 2 || dry.Rows[0].Citation != "Alder 1960" {
		t.Errorf("drying alone: %+v, %v", dry.Rows, err)
	}
	var unknown *taxonomy.Unknown
	if _, err := e.Evidence(t.Context(), "Ficto umbrosa", false, nil); !errors.As(err, &unknown) || len(unknown.Near) == 0 {
		t.Errorf("a misspelt name: %v", err)
	}
}

// A conflict knows where the eggs of its papers came from, and becomes a
// question for a trial.
func TestConflicts(t *testing.T) {
	e := engine(t)
	d, err := e.Conflicts(t.Context(), "Ficta umbrosa")
	if err != nil || len(d.Conflicts) != 1 {
		t.Fatalf("%+v, %v", d, err)
	}
	c := d.Conflicts[0]
	if c.Kind != conflict.Need || c.Factor != evidence.Drying {
		t.Errorf("conflict %s on %s", c.Kind, c.Factor)
	}
	var places string
	for _, r := range c.Reasons {
		if r.Kind == conflict.Population {
			places = r.Note
		}
	}
	if !strings.Contains(places, "North Fen") || !strings.Contains(places, "South Heath") {
		t.Errorf("populations: %q", places)
	}
	for _, q := range d.Open {
		if q.Factor == evidence.Drying || q.Factor == evidence.WarmTemperature {
			t.Errorf("%s is no open question", q.Factor)
		}
	}
	qs := Questions(d.Conflicts)
	if len(qs) != 1 || qs[0].ID != c.ID || len(qs[0].Levels) < 2 {
		t.Fatalf("questions %+v", qs)
	}
	bearings := map[int]evidence.Bearing{}
	for _, l := range qs[0].Levels {
		bearings[l.Side] = l.Bearing
	}
	if bearings[1] != evidence.Favours || bearings[2] != evidence.Indifferent {
		t.Errorf("bearings of the sides %v", bearings)
	}
}

func TestSearch(t *testing.T) {
	e := engine(t)
	for _, c := range []struct {
		name string
		ask  Search
		want []string
	}{
		{"any form of a word", Search{Words: "hatches drying"}, []string{"alder1960", "birch1975"}},
		{"a genus finds its short form", Search{Words: "ficta umbrosa moss"}, []string{"birch1975"}},
		{"years", Search{Words: "eggs", To: 1970}, []string{"alder1960"}},
		{"one paper", Search{Words: "eggs", Paper: "birch1975"}, []string{"birch1975"}},
		{"another section", Search{Words: "eggs", Section: "references"}, nil},
	} {
		hits, err := e.Search(t.Context(), c.ask)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		found := map[string]bool{}
		for _, h := range hits {
			found[h.Paper] = true
		}
		for _, w := range c.want {
			if !found[w] {
				t.Errorf("%s: %s is not found", c.name, w)
			}
		}
		if len(found) != len(c.want) {
			t.Errorf("%s: found %v", c.name, found)
		}
	}
}

// Marks count code points: they must fall on the words found, also behind a
// degree sign.
func TestSearchMarks(t *testing.T) {
	hits, err := engine(t).Search(t.Context(), Search{Words: "moss"})
	if err != nil || len(hits) != 1 || len(hits[0].Marks) == 0 {
		t.Fatalf("%+v, %v", hits, err)
	}
	h := hits[0]
	if got := string([]rune(h.Snippet)[h.Marks[0][0]:h.Marks[0][1]]); got != "moss" {
		t.Errorf("marked %q in %q", got, h.Snippet)
	}
	if h.Citation != "Birch 1975" || h.Source != "birch1975.txt" {
		t.Errorf("%+v", h)
	}
}

// Where no page has all that was asked for, those with the most of it are found, and
// what is lacking is told.
func TestAnswer(t *testing.T) {
	e := engine(t)
	for _, tt := range []struct {
		words, hits, lacks, absent, near string
	}{
		{words: "moss drying", hits: "birch1975"},
		{words: "moss drying heath fen", hits: "birch1975", lacks: "fen"},
		{words: "eggs fen unheard", hits: "alder1960", lacks: "unheard", absent: "unheard"},
		{words: "unheard", absent: "unheard"},
		{words: `"moss the"|unheard -heath`},
		{words: "fictta eggs", hits: "alder1960 birch1975", lacks: "fictta", absent: "fictta", near: "fictta: Ficta eggs"},
		{words: "Fictta umbrossa", absent: "Fictta umbrossa", near: "Fictta: Ficta umbrosa; umbrossa: Ficta umbrosa"},
		{words: "moss -fictta|fen", near: "fictta: moss -Ficta|fen", hits: "birch1975"},
		{words: "“fictta” eggs", hits: "alder1960 birch1975", lacks: `"fictta"`, absent: `"fictta"`, near: "fictta: “Ficta” eggs"},
	} {
		got, err := e.Answer(t.Context(), Search{Words: tt.words})
		if err != nil {
			t.Fatal(err)
		}
		var papers, near []string
		lacks := ""
		for _, h := range got.Hits {
			papers = append(papers, h.Paper)
			lacks = strings.Join(h.Lacks, " ")
		}
		slices.Sort(papers)
		for _, n := range got.Near {
			near = append(near, n.Word+": "+n.Words)
		}
		if strings.Join(papers, " ") != tt.hits || lacks != tt.lacks || got.Partly != (tt.lacks != "") || strings.Join(got.Absent, " ") != tt.absent || strings.Join(near, "; ") != tt.near {
			t.Errorf("%s: found %q, lacking %q, partly %v, absent %q, near %q", tt.words, papers, lacks, got.Partly, got.Absent, near)
		}
	}
}

func TestFound(t *testing.T) {
	e := engine(t)
	for words, want := range map[string]string{"hatch moss": "hatching moss", "moss unheard": "moss", "fen": ""} {
		spans, err := e.Found(t.Context(), words, "birch1975", 1)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, s := range spans {
			got = append(got, papers[1].text[s.Start:s.End])
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %q, want %q", words, got, want)
		}
	}
}

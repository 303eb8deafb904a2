package main

import (
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/papers"
	"hatchlore/cmd/internal/reader"
	corpus "hatchlore/corpus-sample"
	"hatchlore/species/table"
	"hatchlore/species/witness"
)

// laterPaper is read after the others, to see what a paper that comes later
// changes. It speaks of one of the two species.
const laterPaper = "solberrin-2015.pdf"

// TestSampleReadAgainstTruth reads the sample papers from their PDFs and sets
// the evidence table and the conflicts beside those that a careful reader
// makes: they must be the same. What differs here was misread: that both are
// right on claims read well is tested beside the sample itself.
func TestSampleReadAgainstTruth(t *testing.T) {
	if testing.Short() {
		t.Skip("reading all sample papers takes seconds")
	}
	dir := t.TempDir()
	papers := filepath.Join(dir, "papers")
	if err := corpus.Write(papers); err != nil {
		t.Fatal(err)
	}
	later := filepath.Join(dir, laterPaper)
	if err := os.Rename(filepath.Join(papers, laterPaper), later); err != nil {
		t.Fatal(err)
	}
	lib, err := library.Open(filepath.Join(dir, "library"), true)
	if err != nil {
		t.Fatal(err)
	}
	defer lib.Close()
	s := sampleLibrary{t, lib}
	s.ingest(papers)
	before := s.rows()
	s.ingest(later)
	t.Run("later paper", func(t *testing.T) { s.laterPaperAddsItsRows(t, before) })
	t.Run("table", s.tableIsTheTruth)
	t.Run("conflicts", s.conflictsAreTheTruth)
}

// sampleLibrary is a library of sample papers.
type sampleLibrary struct {
	t   *testing.T
	lib *library.Library
}

func (s sampleLibrary) ingest(path string) {
	if _, err := papers.AddAll(s.t.Context(), s.lib, reader.Find([]string{path}), listing.Table, io.Discard, io.Discard); err != nil {
		s.t.Fatal(err)
	}
}

// rows is the evidence table of every species.
func (s sampleLibrary) rows() []table.Row {
	names, err := s.lib.Answers().Species(s.t.Context())
	if err != nil {
		s.t.Fatal(err)
	}
	var out []table.Row
	for _, n := range names.Known {
		if !strings.Contains(n.Taxon, " ") {
			continue // a genus repeats its species
		}
		e, err := s.lib.Answers().Evidence(s.t.Context(), n.Taxon, false, nil)
		if err != nil {
			s.t.Fatal(err)
		}
		out = append(out, e.Rows...)
	}
	return out
}

// files are the papers' file names by their keys, and what is cited of them.
func (s sampleLibrary) files() (map[string]string, witness.Library) {
	papers, err := s.lib.Papers(s.t.Context())
	if err != nil {
		s.t.Fatal(err)
	}
	files, cited := map[string]string{}, witness.Library{}
	for _, p := range papers {
		files[p.Paper] = filepath.Base(p.Source)
		cited[p.Paper] = witness.Paper{Key: p.Paper, Authors: p.Authors, Year: p.Year}
	}
	return files, cited
}

// laterPaperAddsItsRows checks that a paper added later adds its own rows and
// changes others only in that what cites it now finds it.
func (s sampleLibrary) laterPaperAddsItsRows(t *testing.T, before []table.Row) {
	files, _ := s.files()
	was := map[string]table.Row{}
	for _, r := range before {
		was[r.ID] = r
	}
	added := 0
	for _, r := range s.rows() {
		old, known := was[r.ID]
		delete(was, r.ID)
		if files[r.Paper] == laterPaper {
			added++
			continue
		}
		if files[r.Echo] == laterPaper {
			old.Echo, old.After = r.Echo, r.After
		}
		if !known || !reflect.DeepEqual(old, r) {
			t.Errorf("row %s of %s, known %t, was %+v, is %+v", r.ID, r.Citation, known, old, r)
		}
	}
	for id, r := range was {
		t.Errorf("row %s of %s is gone", id, r.Citation)
	}
	if added < 20 {
		t.Errorf("%d rows added", added)
	}
}

// tableIsTheTruth fails at every row that is missed, too much, or of another
// source, page or stage.
func (s sampleLibrary) tableIsTheTruth(t *testing.T) {
	truth, err := corpus.Statements()
	if err != nil {
		t.Fatal(err)
	}
	files, _ := s.files()
	got := corpus.CompareTable(truth, s.rows(), files)
	t.Logf("said: %v", got.Said)
	t.Logf("sourced: %v", got.Sourced)
	t.Logf("staged: %v", got.Staged)
	for _, m := range corpus.Misses(truth, s.rows(), files) {
		t.Error(m)
	}
}

// conflictsAreTheTruth fails at every conflict that is not whole: reasons that
// are no factors, such as how fast eggs were dried, stand in no table.
func (s sampleLibrary) conflictsAreTheTruth(t *testing.T) {
	truth, err := corpus.Truth()
	if err != nil {
		t.Fatal(err)
	}
	files, cited := s.files()
	keys := map[string]string{}
	for k, f := range files {
		keys[f] = k
	}
	found, parts, missed := 0, 0, 0
	for _, c := range byKeys(truth, keys) {
		d, err := s.lib.Answers().Conflicts(t.Context(), c.Taxon)
		if err != nil {
			t.Fatal(err)
		}
		f := corpus.Review([]corpus.Conflict{c}, d.Conflicts, cited)[0]
		if f.Found {
			found++
		}
		parts += len(c.Sides) + len(c.Reasons)
		missed += len(f.Sides) + len(f.Reasons)
		t.Logf("%s %s (%s): found %v", c.Taxon, c.Factor, c.Kind, f.Found)
		for _, x := range f.Sides {
			t.Logf("  no side %s", x)
		}
		for _, x := range f.Reasons {
			t.Logf("  no reason %s of %v: %s", x.Kind, x.Papers, x.Note)
		}
		if !f.Whole() {
			t.Errorf("%s %s (%s) is not whole", c.Taxon, c.Factor, c.Kind)
		}
		for _, x := range d.Conflicts {
			if !slices.ContainsFunc(truth, func(c corpus.Conflict) bool { return c.Taxon == x.Taxon && c.Factor == x.Factor }) {
				t.Errorf("%s %s (%s) is no disagreement of these papers", x.Taxon, x.Factor, x.Kind)
			}
		}
	}
	t.Logf("%d of %d conflicts, %d of %d sides and reasons", found, len(truth), parts-missed, parts)
}

// byKeys names the papers of the truth as the library does.
func byKeys(truth []corpus.Conflict, keys map[string]string) []corpus.Conflict {
	rename := func(papers []string) []string {
		var out []string
		for _, p := range papers {
			out = append(out, keys[p])
		}
		return out
	}
	var out []corpus.Conflict
	for _, c := range truth {
		n := c
		n.Sides, n.Reasons = nil, nil
		for _, s := range c.Sides {
			s.Papers = rename(s.Papers)
			n.Sides = append(n.Sides, s)
		}
		for _, r := range c.Reasons {
			r.Papers = rename(r.Papers)
			n.Reasons = append(n.Reasons, r)
		}
		out = append(out, n)
	}
	return out
}

package main

import (
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"hatchlore/cmd/internal/library"
	"hatchlore/cmd/internal/listing"
	"hatchlore/cmd/internal/papers"
	"hatchlore/cmd/internal/reader"
	corpus "hatchlore/corpus-sample"
	"hatchlore/ingest/ocr"
	"hatchlore/species/conflict"
	"hatchlore/species/table"
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
	if _, err := ocr.Find(t.Context()); err != nil {
		t.Skip("skipped, for one of the papers is a scan: ", err)
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

// files are the papers' file names by their keys.
func (s sampleLibrary) files() map[string]string {
	papers, err := s.lib.Papers(s.t.Context())
	if err != nil {
		s.t.Fatal(err)
	}
	files := map[string]string{}
	for _, p := range papers {
		files[p.Paper] = filepath.Base(p.Source)
	}
	return files
}

// laterPaperAddsItsRows checks that a paper added later adds its own rows and
// changes others only in that what cites it now finds it.
func (s sampleLibrary) laterPaperAddsItsRows(t *testing.T, before []table.Row) {
	files := s.files()
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
	files := s.files()
	got := corpus.CompareTable(truth, s.rows(), files)
	t.Logf("said: %v", got.Said)
	t.Logf("sourced: %v", got.Sourced)
	t.Logf("staged: %v", got.Staged)
	for _, m := range corpus.Misses(truth, s.rows(), files) {
		t.Error(m)
	}
}

// conflictsAreTheTruth fails where a conflict, a side or a reason is missing or
// too much.
func (s sampleLibrary) conflictsAreTheTruth(t *testing.T) {
	truth, err := corpus.Truth()
	if err != nil {
		t.Fatal(err)
	}
	taxa := map[string]bool{}
	var got []conflict.Conflict
	for _, c := range truth {
		if taxa[c.Taxon] {
			continue
		}
		taxa[c.Taxon] = true
		d, err := s.lib.Answers().Conflicts(t.Context(), c.Taxon)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, d.Conflicts...)
	}
	files := s.files()
	r := corpus.ReviewConflicts(truth, got, func(key string) string { return files[key] })
	t.Logf("%d conflicts with %d sides and %d reasons: %d missing, %d too much", r.Conflicts, r.Sides, r.Reasons, len(r.Missing), len(r.TooMuch))
	for _, m := range r.Missing {
		t.Errorf("missing: %s", m)
	}
	for _, m := range r.TooMuch {
		t.Errorf("too much: %s", m)
	}
}

package reader

import (
	"os"
	"path/filepath"
	"testing"

	corpus "hatchlore/corpus-sample"
	"hatchlore/evidence"
)

// Floors under the agreement with the labels of the sample: what was reached,
// less a little. Raise them when the reading gets better. "full" is the
// strictest level, with bearing and species.
const (
	leastPassages = 0.85 // full F1, passages read one by one
	leastPapers   = 0.82 // full F1, whole PDFs read from the file on
)

// TestGoldPassages reads each labelled passage of the sample as a text of its
// own, under its paper's title.
func TestGoldPassages(t *testing.T) {
	gold, err := corpus.Gold()
	if err != nil {
		t.Fatal(err)
	}
	r := newReader(t, Options{})
	dir := t.TempDir()
	var all corpus.Agreement
	for _, p := range gold {
		all = all.Add(corpus.Compare(p.Claims, readPassage(t, r, dir, p)))
	}
	report(t, "passages", all, leastPassages)
}

// readPassage reads one labelled passage as a text under its paper's title.
func readPassage(t *testing.T, r *Reader, dir string, p corpus.Passage) []evidence.Claim {
	t.Helper()
	path := filepath.Join(dir, p.ID+".txt")
	if err := os.WriteFile(path, []byte(p.Title+"\n\n"+p.Text+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	reading, err := r.Read(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	return reading.Claims
}

// TestGoldPapers reads the sample's PDFs and compares, paper by paper, the
// different statements of each: one that a paper repeats counts once.
func TestGoldPapers(t *testing.T) {
	gold, err := corpus.Gold()
	if err != nil {
		t.Fatal(err)
	}
	labels := map[string][]corpus.Claim{}
	for _, p := range gold {
		labels[p.Source] = append(labels[p.Source], p.Claims...)
	}
	r := newReader(t, Options{})
	var all corpus.Agreement
	for _, name := range corpus.Names() {
		reading, err := r.Read(t.Context(), filepath.Join("..", "..", "..", "corpus-sample", "pdf", name))
		if err != nil {
			t.Fatal(err)
		}
		if reading.Document.Pages[0].How == "unread" {
			t.Logf("%s is left out: %s", name, reading.Document.Pages[0].Why)
			continue
		}
		a := corpus.Compare(distinct(labels[name], labelled), distinct(reading.Claims, said))
		t.Logf("%s: %v", name, a.Full)
		all = all.Add(a)
	}
	report(t, "papers", all, leastPapers)
}

func report(t *testing.T, what string, a corpus.Agreement, least float64) {
	t.Helper()
	t.Logf("%s value: %v", what, a.Value)
	t.Logf("%s bearing: %v", what, a.Bearing)
	t.Logf("%s full: %v", what, a.Full)
	if a.Full.F1() < least {
		t.Errorf("%s: full F1 %.3f is under %.2f", what, a.Full.F1(), least)
	}
}

// distinct keeps one of the statements that say the same.
func distinct[T any](all []T, says func(T) evidence.Claim) []T {
	seen := map[string]bool{}
	var out []T
	for _, x := range all {
		if id := says(x).MakeID(""); !seen[id] {
			seen[id] = true
			out = append(out, x)
		}
	}
	return out
}

func said(c evidence.Claim) evidence.Claim {
	return evidence.Claim{Taxon: c.Taxon, Factor: c.Factor, Bearing: c.Bearing, Low: c.Low, High: c.High, Category: c.Category}
}

func labelled(l corpus.Claim) evidence.Claim {
	return evidence.Claim{Taxon: l.Taxon, Factor: l.Factor, Bearing: l.Bearing, Low: l.Low, High: l.High, Category: l.Category}
}

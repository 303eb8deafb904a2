package name

import (
	"bufio"
	"encoding/json"
	"os"
	"strings"
	"testing"
)

// TestSamplePapers reads the invented papers of the sample: the animal of each
// labelled claim must be among the names of its paper up to that passage, and
// every name found must be one that the sample names at all.
func TestSamplePapers(t *testing.T) {
	f, err := os.Open("../../corpus-sample/gold.jsonl")
	if os.IsNotExist(err) {
		t.Skip("the sample is not part of this checkout")
	} else if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	type labelled struct {
		Title, Source, Text string
		Claims              []struct{ Taxon string }
	}
	papers := map[string][]labelled{}
	sc := bufio.NewScanner(f)
	sc.Buffer(nil, 1<<22)
	for sc.Scan() {
		var p labelled
		if err := json.Unmarshal(sc.Bytes(), &p); err != nil {
			t.Fatal(err)
		}
		papers[p.Source] = append(papers[p.Source], p)
	}
	if err := sc.Err(); err != nil {
		t.Fatal(err)
	}
	if len(papers) == 0 {
		t.Fatal("the sample has no labelled passages")
	}
	found := map[string]int{}
	for source, ps := range papers {
		var texts []string
		for _, p := range ps {
			texts = append(texts, p.Text)
		}
		scope := NewScope(ps[0].Title, texts...)
		got := map[string]bool{}
		for _, n := range scope.Title() {
			got[n.Full()] = true
		}
		for _, p := range ps {
			for _, n := range scope.Find(p.Text) {
				got[n.Full()] = true
				found[string(n.Rank)+" "+n.Full()]++
				if n.Rank == Species && strings.HasSuffix(n.Genus, ".") {
					t.Errorf("%s: %s has no genus", source, n.Printed)
				}
			}
			for _, c := range p.Claims {
				if c.Taxon != "" && !got[c.Taxon] {
					t.Errorf("%s: %s is not found up to %.60q", source, c.Taxon, p.Text)
				}
			}
		}
	}
	t.Log(found)
}

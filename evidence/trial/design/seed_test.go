package design

import (
	"flag"
	"fmt"
	"hatchlore/evidence/trial"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite golden files")

// The draw of dishes and labels must not change with the language's version or
// the machine: a keeper who plans again gets the same bench.
func TestSameSeedSameBench(t *testing.T) {
	p, err := New(Request{Taxon: "Branchinecta exempli", Eggs: 300, Dishes: 30, Start: start, Seed: 20260110, Runs: 2,
		Chambers: []trial.Chamber{{Low: 4, High: 12}, {Low: 4, High: 12}}, Lots: []trial.Lot{{Name: "north", Eggs: 160}, {Name: "south", Eggs: 140}},
		Factors: []trial.Factor{parse(t, "incubation-temperature=5,12"), parse(t, "stratification-length=30,90"), parse(t, "trigger=carbon-dioxide")}})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for _, d := range p.Dishes {
		fmt.Fprintln(&b, d.Dish, d.Label, d.Chamber, d.Run, d.Lot, d.Eggs, d.Levels, d.Control, d.Steps[0].Date, d.Steps[len(d.Steps)-1].Date)
	}
	const golden = "testdata/bench.golden"
	if *update {
		if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the bench has changed; got\n%s\nwant\n%s", b.String(), want)
	}
}

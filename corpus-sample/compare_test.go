package corpus

import (
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/species"
	"hatchlore/species/conflict"
)

// TestConflictsAreTheTruth sets what species finds in the labelled claims
// beside the hand-made truth, so that rules and readers have no part in it.
func TestConflictsAreTheTruth(t *testing.T) {
	claims, library, err := Labelled()
	if err != nil {
		t.Fatal(err)
	}
	truth, err := Truth()
	if err != nil {
		t.Fatal(err)
	}
	var got []conflict.Conflict
	for _, c := range species.Conflicts(claims, library, nil) {
		if slices.ContainsFunc(truth, func(w Conflict) bool { return w.Taxon == c.Taxon }) {
			got = append(got, c)
		}
	}
	r := ReviewConflicts(truth, got, func(key string) string { return key })
	for what, lines := range map[string][]string{"missing": r.Missing, "too much": r.TooMuch} {
		for _, l := range lines {
			if !beyondLabels(l) {
				t.Errorf("%s: %s", what, l)
			}
		}
	}
}

// beyondLabels reports whether a difference lies in what the labels do not have: whom
// a paper cites, which is guessed here from the nearest name, and two statements of
// Ibbetsworth that stand in the table only. The papers themselves are held to the truth
// in all where they are read from their PDFs.
func beyondLabels(line string) bool {
	return strings.Contains(line, ": reason echo ") ||
		strings.HasPrefix(line, "quennocaris-pallidipes:incubation-temperature:opposed:low: side 1 favours 4 to 2") || // shells opened "up to 25 °C"
		strings.HasPrefix(line, "quennocaris-pallidipes:trigger:need:salinity-drop: ") // dishes without dilution "hatched nevertheless"
}

// What differs from the truth in any part is told.
func TestReviewTellsDifferences(t *testing.T) {
	claims, library, err := Labelled()
	if err != nil {
		t.Fatal(err)
	}
	truth, err := Truth()
	if err != nil {
		t.Fatal(err)
	}
	got := species.Conflicts(claims, library, nil)
	i := slices.IndexFunc(got, func(c conflict.Conflict) bool { return c.ID == truth[0].ID })
	for name, change := range map[string]func(c *conflict.Conflict){
		"a side's papers":     func(c *conflict.Conflict) { c.Sides[0].Papers = c.Sides[0].Papers[1:] },
		"who found it":        func(c *conflict.Conflict) { c.Sides[0].Firsthand++ },
		"a reason too few":    func(c *conflict.Conflict) { c.Reasons = c.Reasons[1:] },
		"a reason twice":      func(c *conflict.Conflict) { c.Reasons = append(c.Reasons, c.Reasons[0]) },
		"what differed":       func(c *conflict.Conflict) { c.Reasons[len(c.Reasons)-1].Handling = "" },
		"the kind":            func(c *conflict.Conflict) { c.Kind = conflict.Apart },
		"a conflict too much": func(c *conflict.Conflict) { c.ID += ":again" },
	} {
		c := got[i]
		c.Sides, c.Reasons = slices.Clone(c.Sides), slices.Clone(c.Reasons)
		if r := ReviewConflicts(truth[:1], []conflict.Conflict{c}, func(key string) string { return key }); !r.Whole() {
			t.Fatalf("unchanged: %+v", r)
		}
		if change(&c); ReviewConflicts(truth[:1], []conflict.Conflict{c}, func(key string) string { return key }).Whole() {
			t.Errorf("%s goes unseen", name)
		}
	}
}

// A paper added later changes only what it speaks of.
func TestLaterPaperChangesOnlyItsOwn(t *testing.T) {
	claims, library, err := Labelled()
	if err != nil {
		t.Fatal(err)
	}
	const later = "solberrin-2015.pdf"
	before := slices.DeleteFunc(slices.Clone(claims), func(c evidence.Claim) bool { return c.Paper == later })
	touched := map[string]bool{}
	for _, c := range claims {
		if c.Paper == later {
			touched[c.Taxon] = true
		}
	}
	if len(touched) != 1 {
		t.Fatalf("%s speaks of %v: the test wants a paper on one species", later, touched)
	}
	was, is := byTaxon(species.Conflicts(before, library, nil)), byTaxon(species.Conflicts(claims, library, nil))
	for taxon, cs := range was {
		if same := slices.EqualFunc(cs, is[taxon], func(a, b conflict.Conflict) bool { return a.ID == b.ID && a.Question == b.Question }); same == touched[taxon] {
			t.Errorf("%s: changed %v, told of in the later paper %v", taxon, !same, touched[taxon])
		}
	}
}

func byTaxon(cs []conflict.Conflict) map[string][]conflict.Conflict {
	out := map[string][]conflict.Conflict{}
	for _, c := range cs {
		out[c.Taxon] = append(out[c.Taxon], c)
	}
	return out
}

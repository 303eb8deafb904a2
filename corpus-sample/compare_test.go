package corpus

import (
	"slices"
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
	for _, f := range Review(truth, species.Conflicts(claims, library, nil), library) {
		if !f.Found {
			t.Errorf("%s %s: no conflict of kind %s", f.Conflict.Taxon, f.Conflict.Factor, f.Conflict.Kind)
		}
		for _, s := range f.Sides {
			t.Errorf("%s %s: no side %s", f.Conflict.Taxon, f.Conflict.Factor, s)
		}
		for _, r := range f.Reasons {
			if r.Kind == "conditions" {
				t.Logf("%s %s: told by no factor: %s", f.Conflict.Taxon, f.Conflict.Factor, r.Note)
				continue
			}
			t.Errorf("%s %s: no reason %s naming one of %v", f.Conflict.Taxon, f.Conflict.Factor, r.Kind, r.Papers)
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

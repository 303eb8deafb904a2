package query

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
)

// The overview counts what the views of each species show, before and after a
// decision, whether it remembers earlier counts or not.
func TestOverview(t *testing.T) {
	e := engine(t)
	e.Remembering(&Memory{})
	check := func(when string, disputes int) {
		t.Helper()
		all, err := e.Overview(t.Context())
		if err != nil || len(all) != 1 || all[0].Taxon != "Ficta umbrosa" || all[0].Papers != 2 {
			t.Fatalf("%s: %+v, %v", when, all, err)
		}
		if ev, err := e.Evidence(t.Context(), all[0].Taxon, false, nil); err != nil || all[0].Claims != len(ev.Rows) {
			t.Errorf("%s: %d claims, the species shows %d, %v", when, all[0].Claims, len(ev.Rows), err)
		}
		d, err := e.Conflicts(t.Context(), all[0].Taxon)
		if err != nil || len(d.Conflicts) != disputes || all[0].Disputes != disputes || all[0].Open != len(d.Open) {
			t.Errorf("%s: %d disputes and %d open, the species shows %d and %d, %v", when, all[0].Disputes, all[0].Open, len(d.Conflicts), len(d.Open), err)
		}
	}
	check("at first", 1)
	check("again", 1)
	claims, err := e.store.Claims(t.Context(), store.Filter{Paper: "birch1975", Factors: []evidence.Factor{evidence.Drying}})
	if err != nil || len(claims) != 1 {
		t.Fatalf("%d claims, %v", len(claims), err)
	}
	now := claims[0]
	now.Category, now.Bearing = "required", evidence.Favours
	if _, err := e.store.Decide(t.Context(), now.ID, store.Decision{Verdict: evidence.Amended, Amended: &now}); err != nil {
		t.Fatal(err)
	}
	check("after an amendment", 0)
	if _, err := e.store.Decide(t.Context(), now.ID, store.Decision{Verdict: evidence.Undecided}); err != nil {
		t.Fatal(err)
	}
	check("after taking it back", 1)
}

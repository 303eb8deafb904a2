package query

import (
	"context"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence/store"
)

func TestSynonymsAreFollowedBothWays(t *testing.T) {
	e := engine(t)
	ctx := context.Background()
	alias := store.Alias{Old: "Ficta", New: "Novaficta", Reason: "moved to another genus"}
	if err := e.CheckAlias(ctx, alias); err != nil {
		t.Fatal(err)
	}
	if err := e.store.SetAlias(ctx, alias); err != nil {
		t.Fatal(err)
	}
	for _, asked := range []string{"Ficta umbrosa", "Novaficta umbrosa", "ficta", "N. umbrosa"} {
		got, err := e.Evidence(ctx, asked, false, nil)
		if err != nil || len(got.Rows) == 0 || !strings.HasPrefix(got.Taxon, "Novaficta") {
			t.Errorf("%s: %d rows on %q, %v", asked, len(got.Rows), got.Taxon, err)
		}
	}
	forms, err := e.alternatives(ctx)
	if err != nil {
		t.Fatal(err)
	}
	for from, want := range map[string]string{
		"novaficta umbrosa": "ficta umbrosa", "ficta umbrosa": "novaficta umbrosa", "novaficta": "ficta",
	} {
		if !slices.Contains(forms[from], want) {
			t.Errorf("a search for %q finds %q, not %q", from, forms[from], want)
		}
	}
	if !slices.Contains(forms["novaficta umbrosa"], "f. umbrosa") {
		t.Errorf("a search for the new name leaves out the old one's short form: %q", forms["novaficta umbrosa"])
	}
	if err := e.CheckAlias(ctx, store.Alias{Old: "Novaficta", New: "Ficta"}); err == nil {
		t.Error("a circle of names was taken")
	}
}

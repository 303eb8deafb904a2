package query

import (
	"context"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence/store"
)

func TestSynonymy(t *testing.T) {
	aliases := []store.Alias{
		{Old: "Prisca", New: "Ficta"}, {Old: "Ficta umbrosula", New: "Ficta umbrosa"}, {Old: "Alia nivalis", New: "Ficta nivalis"},
	}
	names, err := resolver(aliases)
	if err != nil {
		t.Fatal(err)
	}
	s := newSynonymy(names, aliases)
	for name, want := range map[string]string{
		"ficta umbrosa":   "ficta umbrosula, prisca umbrosa",
		"ficta umbrosula": "ficta umbrosa, prisca umbrosula",
		"prisca umbrosa":  "ficta umbrosa, ficta umbrosula",
		"alia nivalis":    "ficta nivalis",
		"Ficta":           "alia nivalis, ficta nivalis, ficta umbrosa, ficta umbrosula, prisca",
		"alia":            "ficta nivalis",
		"alia gelida":     "",
		"moss":            "",
		"p. umbrosa":      "ficta umbrosa, ficta umbrosula",
		"x. umbrosa":      "",
	} {
		if got := strings.Join(s.of(name), ", "); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

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
	for _, asked := range []string{"novaficta umbrosa", "Ficta umbrosa", "Novaficta", "N. umbrosa"} {
		hits, err := e.Search(ctx, Search{Words: asked + " moss"})
		if err != nil || len(hits) != 1 || hits[0].Paper != "birch1975" {
			t.Errorf("a search for %s does not find the short form of the old name: %+v, %v", asked, hits, err)
		}
	}
	if err := e.CheckAlias(ctx, store.Alias{Old: "Novaficta", New: "Ficta"}); err == nil {
		t.Error("a circle of names was taken")
	}
}

func TestUnclaimed(t *testing.T) {
	got, err := engine(t).Unclaimed(t.Context(), "Ficta", "ficta  umbrosa", "Fict", "Novaficta umbrosa")
	if want := []string{"Fict", "Novaficta umbrosa"}; err != nil || !slices.Equal(got, want) {
		t.Errorf("%q, %v, want %q", got, err, want)
	}
}

package web_test

import (
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/query/web/webtest"
)

// A change of the library shows at once, although answers are kept.
func TestKeptAnswersFollowTheLibrary(t *testing.T) {
	p := webtest.New(t)
	before := p.Get("/species/Ficta%20umbrosa").Body.String()
	claims, err := p.Store.Claims(t.Context(), store.Filter{Taxa: []string{"Ficta umbrosa"}, Factors: []evidence.Factor{evidence.WarmTemperature}})
	if err != nil || len(claims) != 2 {
		t.Fatalf("%d claims, %v", len(claims), err)
	}
	for _, c := range claims {
		if _, err := p.Store.Decide(t.Context(), c.ID, store.Decision{Verdict: evidence.Rejected}); err != nil {
			t.Fatal(err)
		}
	}
	after := p.Get("/species/Ficta%20umbrosa").Body.String()
	if !strings.Contains(before, "They hatched at 8") || strings.Contains(after, "They hatched at 8") {
		t.Error("a rejected claim is still shown")
	}
}

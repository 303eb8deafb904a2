package rule

import (
	"testing"

	"hatchlore/corpus-sample/surroundings"
)

// TestSecondhandDev: of the claims that agree with a label, nearly all agree
// too on whose finding they are.
func TestSecondhandDev(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	var same, all, missed, made int
	for _, name := range []string{"passages-dev.jsonl", "passages-free.jsonl"} {
		for _, p := range surroundings.Lines[passage](t, surroundings.Shared(t, name)) {
			claims := set.Match(document(p.Title, p.Text))
			owner, _ := pair(p.Claims, claims, allAgrees)
			for i, c := range claims {
				if owner[i] < 0 {
					continue
				}
				all++
				switch g := p.Claims[owner[i]]; {
				case g.Secondhand == c.Secondhand:
					same++
				case g.Secondhand:
					missed++
					t.Logf("%s: %q is second-hand", p.ID, c.Quote)
				default:
					made++
					t.Logf("%s: %q is no second-hand, but cites %q", p.ID, c.Quote, c.Cited)
				}
			}
		}
	}
	t.Logf("%d of %d agree, %d second-hand were missed, %d made up", same, all, missed, made)
	if least := 0.97; float64(same) < least*float64(all) {
		t.Errorf("%d of %d agree on whose finding it is, under %.2f", same, all, least)
	}
}

package name

import (
	"strings"
	"testing"

	"hatchlore/corpus-sample/surroundings"
)

type passage struct {
	ID, Title, Text, Lang string
	Claims                []struct{ Taxon, Quote string }
}

// TestRecallOnPassages asks whether the taxon of each labelled claim is among
// the names found in its passage or title.
func TestRecallOnPassages(t *testing.T) {
	for _, tt := range []struct {
		file string
		min  float64
	}{{"passages-dev.jsonl", .97}, {"passages-free.jsonl", .97}} {
		t.Run(tt.file, func(t *testing.T) {
			var found, all int
			for _, p := range surroundings.Lines[passage](t, surroundings.Shared(t, tt.file)) {
				scope := NewScope(p.Title, p.Text)
				got := map[string]bool{}
				for _, n := range append(scope.Title(), scope.Find(p.Text)...) {
					got[strings.ToLower(n.Full())] = true
				}
				for _, c := range p.Claims {
					if c.Taxon == "" {
						continue
					}
					all++
					if got[strings.ToLower(c.Taxon)] {
						found++
					} else {
						t.Logf("%s (%s): %s not among %v", p.ID, p.Lang, c.Taxon, got)
					}
				}
			}
			recall := float64(found) / float64(all)
			t.Logf("recall %d of %d = %.3f", found, all, recall)
			if recall < tt.min {
				t.Errorf("recall %.3f, want at least %.3f", recall, tt.min)
			}
		})
	}
}

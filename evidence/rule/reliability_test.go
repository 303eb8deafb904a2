package rule

import (
	"path/filepath"
	"testing"

	"hatchlore/corpus-sample/surroundings"
	"hatchlore/evidence"
)

// samples is the labelled text of the invented papers that come with the
// project.
var samples = filepath.Join("..", "..", "corpus-sample", "gold.jsonl")

// reliability counts the claims of each tenth of the score, and those that
// are right to the name.
func reliability(bins map[int]*tally, claims []evidence.Claim, owner []int) {
	for j, c := range claims {
		b := int(c.Score*10 + 1e-9)
		if bins[b] == nil {
			bins[b] = &tally{}
		}
		bins[b].claimed++
		if owner[j] >= 0 {
			bins[b].right++
		}
	}
}

func logReliability(t *testing.T, bins map[int]*tally) {
	t.Helper()
	for b := 0; b <= 10; b++ {
		if a := bins[b]; a != nil {
			t.Logf("score from %.1f: %d of %d right, %.2f", float64(b)/10, a.right, a.claimed, float64(a.right)/float64(a.claimed))
		}
	}
}

// TestReliability logs how often claims of each score are right on the sample
// papers. Claims of .9 and more are to be right 9 times in 10 there; the
// passages are single, so that a name told earlier in the paper is lost.
func TestReliability(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	bins := map[int]*tally{}
	var value, full tally
	for _, p := range surroundings.Lines[passage](t, samples) {
		var claims []evidence.Claim
		for _, c := range set.Match(document(p.Title, p.Text)) {
			if !c.Implied {
				claims = append(claims, c)
			}
		}
		_, n := pair(p.Claims, claims, valueAgrees)
		owner, m := pair(p.Claims, claims, allAgrees)
		value = tally{value.right + n, value.gold + len(p.Claims), value.claimed + len(claims)}
		full = tally{full.right + m, full.gold + len(p.Claims), full.claimed + len(claims)}
		reliability(bins, claims, owner)
	}
	t.Logf("value %s", value)
	t.Logf("full  %s", full)
	logReliability(t, bins)
	if value.f1() < 0.90 || full.f1() < 0.88 {
		t.Errorf("value F1 %.3f and full F1 %.3f are under .90 and .88", value.f1(), full.f1())
	}
	if a := bins[9]; a == nil || float64(a.right) < 0.9*float64(a.claimed) {
		t.Errorf("claims scored .9 and more: %+v", a)
	}
}

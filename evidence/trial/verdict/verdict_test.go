package verdict

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
)

// Untreated eggs that do not hatch cannot be harmed, nor can their silence
// contradict that they need what the treated had too little of.
func TestNeed(t *testing.T) {
	j := New(&trial.Plan{Odds: trial.Odds{Difference: 0.2}}, nil)
	none, some, unsure := stat.Interval{Low: 0, High: 0.08}, stat.Interval{Low: 0.3, High: 0.5}, stat.Interval{Low: 0.03, High: 0.3}
	flat, up, down := stat.Interval{Low: -0.1, High: 0.1}, stat.Interval{Low: 0.2, High: 0.6}, stat.Interval{Low: -0.6, High: -0.2}
	for _, c := range []struct {
		side       string
		gain, bare stat.Interval
		want       string
	}{
		{"required", up, none, Supported}, {"required", flat, some, Contradicted}, {"required", flat, none, Undecided}, {"required", up, some, Contradicted}, {"required", flat, unsure, Contradicted},
		{"helpful", up, some, Supported}, {"helpful", flat, some, Contradicted}, {"helpful", flat, none, Undecided},
		{"harmful", down, some, Supported}, {"harmful", flat, some, Contradicted}, {"harmful", flat, none, Undecided}, {"harmful", up, none, Contradicted},
		{"tolerated", flat, some, Supported}, {"tolerated", flat, none, Undecided}, {"tolerated", down, some, Contradicted},
		{"not-required", flat, some, Supported}, {"not-required", up, none, Contradicted}, {"not-required", flat, none, Undecided}, {"not-required", flat, unsure, Supported},
	} {
		if got := j.need(c.side, c.gain, c.bare); got != c.want {
			t.Errorf("%s with gain %v, untreated %v: %s, want %s", c.side, c.gain, c.bare, got, c.want)
		}
	}
}

func TestSideName(t *testing.T) {
	sides := []trial.Side{{Words: "30 d", Bearing: evidence.Favours}, {Words: "30 d", Bearing: evidence.Prevents}, {Words: "90 d", Bearing: evidence.Favours}}
	for k, want := range []string{"30 d, favours", "30 d, prevents", "90 d"} {
		if got := SideName(trial.Question{Kind: trial.KindApart}, sides, k); got != want {
			t.Errorf("side %d is named %q, want %q", k, got, want)
		}
	}
}

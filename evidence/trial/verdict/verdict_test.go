package verdict

import (
	"slices"
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

// The error is shared out over what is asked, else over what is compared; one factor
// alone has it all.
func TestLevel(t *testing.T) {
	factor := trial.Factor{ID: evidence.Drying}
	for _, tt := range []struct {
		questions, factors int
		want               float64
	}{{0, 1, 0.95}, {0, 2, 0.975}, {5, 2, 0.99}, {1, 4, 0.95}} {
		p := &trial.Plan{Questions: make([]trial.Question, tt.questions)}
		for range tt.factors {
			p.Factors = append(p.Factors, factor)
		}
		if got := New(p, nil).Level(); got != tt.want {
			t.Errorf("%d questions, %d factors: %v, want %v", tt.questions, tt.factors, got, tt.want)
		}
	}
}

// A level in the plan of which no dish was counted is no level that hatched 0 to 100 %.
func TestUncounted(t *testing.T) {
	at := func(v float64) trial.Setting { return trial.Num(v) }
	n := func(v float64) *float64 { return &v }
	p := &trial.Plan{Factors: []trial.Factor{{ID: evidence.Conductivity, Unit: "uS/cm", Levels: []trial.Setting{at(150), at(640)}, Conflicts: []string{"q"}}},
		Runs:   []trial.Run{{Run: 1, Chamber: "A"}},
		Dishes: []trial.Dish{{Dish: 1, Run: 1, Eggs: 10, Levels: map[evidence.Factor]trial.Setting{evidence.Conductivity: at(150)}}},
		Questions: []trial.Question{{ID: "q", Kind: trial.KindOpposed, Factor: evidence.Conductivity, Unit: "uS/cm", Levels: []trial.Level{
			{Value: n(640), Side: 1, Bearing: evidence.Favours}, {Value: n(640), Side: 2, Bearing: evidence.Prevents}}}}}
	for _, v := range New(p, []int{0}).Hear([]stat.Count{{Hatched: 3, Eggs: 10}}, false).Verdicts() {
		if v.Verdict != Undecided || v.Why != "no dish at its level was counted" {
			t.Errorf("%+v", v)
		}
	}
}

func TestOthers(t *testing.T) {
	at := func(v ...float64) (out []trial.Setting) {
		for _, x := range v {
			out = append(out, trial.Num(x))
		}
		return out
	}
	sides := []trial.Side{{Number: 1, Levels: at(5, 12)}, {Number: 2, Levels: at(12, 20)}, {Number: 3, Levels: at(20, 30)}}
	for k, want := range [][]trial.Setting{at(20, 30), at(5, 30), at(5, 12)} {
		if got := others(sides, sides[k]); !slices.Equal(got, want) {
			t.Errorf("side %d is set against %v, want %v", k+1, got, want)
		}
	}
}

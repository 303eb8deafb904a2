package wording

import (
	"slices"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

func TestLikeness(t *testing.T) {
	for rho, want := range map[float64]string{-0.01: "none seen", 0: "none seen", 0.0002: "under 0.001", 0.0007: "0.001", 0.0772: "0.077"} {
		if got := Likeness(rho); got != want {
			t.Errorf("%v: %q, want %q", rho, got, want)
		}
	}
}

// A factor without a test does not stand as the weakest comparison, and a question
// counts as likely settled only where each side could be shown.
func TestOffers(t *testing.T) {
	p := &trial.Plan{EggsUsed: 180, EggsKept: 20,
		Power: []trial.Power{{Factor: evidence.Drying, Power: 0.62}, {Factor: evidence.WarmTemperature, Untestable: true}, {Factor: evidence.Light, Power: 0.7}},
		Settles: []trial.Settles{
			{Conflict: "a", Chance: 0.9, Sides: []trial.SideChance{{Side: "x", Chance: 0.95}, {Side: "y", Chance: 0.85}}},
			{Conflict: "b", Chance: 0.5, Sides: []trial.SideChance{{Side: "20 °C, favours", Chance: 1}, {Side: "20 °C, prevents", Chance: 0.004}}},
			{Conflict: "c", Chance: 0.6}, // of a plan kept before sides were told
		}}
	o := Offers(p)[0]
	if o.Weakest != 0.62 || !slices.Equal(o.Untested, []string{"incubation temperature"}) || o.Settled != 2 {
		t.Errorf("%+v", o)
	}
	for k, want := range []string{"", "cannot show: 20 °C, prevents", ""} {
		if got := CannotShow(p.Settles[k]); got != want {
			t.Errorf("%s: %q, want %q", p.Settles[k].Conflict, got, want)
		}
	}
}

// Questions of one factor and kind are told apart by the level in question.
func TestQuestion(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	level := func(v float64, side int, does evidence.Bearing) trial.Level {
		return trial.Level{Value: n(v), Side: side, Bearing: does}
	}
	p := &trial.Plan{Questions: []trial.Question{
		{ID: "nova-alba:drying:opposed:high", Kind: trial.KindOpposed, Factor: evidence.Drying, Unit: "d", Levels: []trial.Level{level(0, 0, ""), level(14, 1, evidence.Favours), level(14, 2, evidence.Prevents)}},
		{ID: "nova-alba:drying:opposed", Kind: trial.KindOpposed, Factor: evidence.Drying, Unit: "d", Levels: []trial.Level{level(3, 1, evidence.Favours), level(14, 2, evidence.Prevents)}},
		{ID: "nova-alba:trigger:need:low-oxygen", Kind: trial.KindNeed, Factor: evidence.Trigger, Levels: []trial.Level{{Category: "low-oxygen", Side: 1}}},
	}}
	for k, want := range []string{"drying: hatched here, failed there (14 d)", "drying: hatched here, failed there", "trigger: needed or not (low-oxygen)"} {
		if got := Question(p, p.Questions[k].ID); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

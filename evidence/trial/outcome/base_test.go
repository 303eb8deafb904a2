package outcome

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
)

// The eggs on which a later trial builds are those that got what it holds and
// nothing else, as a level or in all dishes.
func TestBase(t *testing.T) {
	drying := trial.Factor{ID: evidence.Drying, Levels: []trial.Setting{trial.Num(0), trial.Num(28)}}
	warm := trial.Factor{ID: evidence.WarmTemperature, Levels: []trial.Setting{trial.Num(5), trial.Num(12)}, WholePlot: true}
	row := func(days, degrees float64, hatched int) TreatmentResult {
		return TreatmentResult{Levels: map[string]trial.Setting{"drying": trial.Num(days), "incubation-temperature": trial.Num(degrees)}, Eggs: 40, Hatched: hatched}
	}
	r := &Result{Treatments: []TreatmentResult{row(0, 5, 1), row(0, 12, 2), row(28, 5, 4), row(28, 12, 8)}}
	for _, tt := range []struct {
		name       string
		then, now  []string // held in all dishes of the trial, and of the one to come
		hatched    int
		eggs       int
		noneAtThat bool
	}{
		{name: "nothing held", hatched: 3, eggs: 80},
		{name: "no treatment held", then: []string{"light=dark", "stratification-length=0"}, hatched: 3, eggs: 80},
		{name: "all lay cold, none will", then: []string{"stratification-length=60"}, noneAtThat: true},
		{name: "all lay cold, all will", then: []string{"stratification-length=60"}, now: []string{"stratification-length=60"}, hatched: 3, eggs: 80},
		{name: "all lay cold, all will for longer", then: []string{"stratification-length=60"}, now: []string{"stratification-length=90"}, noneAtThat: true},
		{name: "a level is what all will get", now: []string{"drying=28"}, hatched: 12, eggs: 80},
		{name: "and at one temperature", now: []string{"drying=28", "incubation-temperature=12"}, hatched: 8, eggs: 40},
		{name: "all will be triggered", now: []string{"trigger=carbon-dioxide"}, noneAtThat: true},
		{name: "cold at some temperature is cold", then: []string{"stratification-temperature=4"}, noneAtThat: true},
		{name: "for the usual days", then: []string{"stratification-temperature=4"}, now: []string{"stratification-length=60"}, hatched: 3, eggs: 80},
	} {
		got, ok := Base(&trial.Plan{Factors: []trial.Factor{drying, warm}, Fixed: fixed(t, tt.then)}, r, fixed(t, tt.now))
		if ok == tt.noneAtThat || got != (stat.Count{Hatched: tt.hatched, Eggs: tt.eggs}) {
			t.Errorf("%s: %+v, %v", tt.name, got, ok)
		}
	}
}

func fixed(t *testing.T, words []string) (out []trial.Fixed) {
	t.Helper()
	for _, s := range words {
		x, err := trial.ParseHeld(s)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, x)
	}
	return out
}

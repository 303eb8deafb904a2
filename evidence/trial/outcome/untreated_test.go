package outcome

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// Undried eggs tell what hatches without help, unless all dishes lay cold.
func TestUntreated(t *testing.T) {
	p := &trial.Plan{Factors: []trial.Factor{{ID: evidence.Drying, Levels: []trial.Setting{trial.Num(0), trial.Num(28)}}}}
	r := &Result{Treatments: []TreatmentResult{
		{Levels: map[string]trial.Setting{"drying": trial.Num(28)}},
		{Levels: map[string]trial.Setting{"drying": trial.Num(0)}, Eggs: 40},
	}}
	for _, tt := range []struct {
		held string
		ok   bool
	}{{"incubation-temperature=12", true}, {"stratification-length=0", true}, {"stratification-length=60", false}, {"trigger=carbon-dioxide", false}} {
		x, err := trial.ParseHeld(tt.held)
		if err != nil {
			t.Fatal(err)
		}
		p.Fixed = []trial.Fixed{x}
		got, ok := Untreated(p, r)
		if ok != tt.ok || ok && got.Eggs != 40 {
			t.Errorf("with %s in all dishes: got %+v, %v", tt.held, got, ok)
		}
	}
}

package trial_test

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/trialtest"
)

func TestReadPlan(t *testing.T) {
	p := trialtest.Questions(t, 400)
	write := func(p *trial.Plan) *bytes.Reader {
		b, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		return bytes.NewReader(b)
	}
	if _, err := trial.ReadPlan(write(p)); err != nil {
		t.Fatal(err)
	}
	breaks := map[string]func(*trial.Plan){
		"no dishes":          func(p *trial.Plan) { p.Dishes = nil },
		"two dishes":         func(p *trial.Plan) { p.Dishes[1].Label = p.Dishes[0].Label },
		"in run 9":           func(p *trial.Plan) { p.Dishes[0].Run = 9 },
		"0 eggs":             func(p *trial.Plan) { p.Dishes[0].Eggs = 0 },
		"no level of drying": func(p *trial.Plan) { p.Dishes[0].Levels = map[evidence.Factor]trial.Setting{} },
		"fewer than two":     func(p *trial.Plan) { p.Factors[0].Levels = nil },
		"out of order":       func(p *trial.Plan) { p.Runs[0].Run = 2 },
	}
	for want, damage := range breaks {
		q, err := trial.ReadPlan(write(p))
		if err != nil {
			t.Fatal(err)
		}
		damage(q)
		if _, err := trial.ReadPlan(write(q)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want …%s…", err, want)
		}
	}
	if _, err := trial.ReadPlan(strings.NewReader("{")); err == nil {
		t.Error("half a plan passes")
	}
}

package outcome

import (
	"encoding/json"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
)

func FuzzWeigh(f *testing.F) {
	p, err := design.New(design.Request{Eggs: 60, Start: trialtest.Start, Factors: []trial.Factor{{ID: evidence.Drying, Unit: "d", Levels: []trial.Setting{trial.Num(0), trial.Num(14)}}}})
	if err != nil {
		f.Fatal(err)
	}
	b, err := json.Marshal(p)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(b))
	f.Fuzz(func(t *testing.T, s string) {
		p, err := trial.ReadPlan(strings.NewReader(s))
		if err != nil {
			return
		}
		sheet := "dish,hatched\n"
		for _, d := range p.Dishes {
			if strings.ContainsAny(d.Label, ",\"\r\n \t") {
				return
			}
			sheet += d.Label + ",1\n"
		}
		if c, err := counts.Read(strings.NewReader(sheet)); err == nil {
			_, _ = Weigh(p, c, WeighOptions{}) // must not panic
		}
	})
}

func FuzzWeighTable(f *testing.F) {
	f.Add(crowderSheet)
	f.Add("dish,date,eggs,emerged,hatched,dead,note\nACE,2026-01-01,10,1,2,3,\"a \"\"note\"\"\"\n")
	f.Add("\uFEFFdish,hatched\r\n1,\r\n")
	f.Fuzz(func(t *testing.T, s string) {
		c, err := counts.Read(strings.NewReader(s))
		if err != nil {
			return
		}
		if r, err := WeighTable(c, WeighOptions{}); err == nil {
			if _, err := json.Marshal(r); err != nil {
				t.Error(err)
			}
		}
	})
}

package bench_test

import (
	"strings"
	"testing"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
)

// What the bench does by a default is told, and what was given is not.
func TestDefaultsAreTold(t *testing.T) {
	const length, cold, frozen = "lasts 60 days", "held at 4 °C", "frozen for 7 days"
	for _, tt := range []struct {
		factors, hold []string
		want, not     []string
	}{
		{[]string{"stratification-temperature=4,8"}, nil, []string{length}, []string{cold, frozen}},
		{[]string{"stratification-temperature=4,8"}, []string{"stratification-length=90"}, nil, []string{length, cold, frozen}},
		{[]string{"stratification-length=0,60"}, nil, []string{cold}, []string{length, frozen}},
		{[]string{"freezing=-18"}, nil, []string{frozen}, []string{length, cold}},
		{[]string{"drying=0,28"}, nil, nil, []string{length, cold, frozen}},
	} {
		req := design.Request{Eggs: 600, Start: trialtest.Start, Chambers: []trial.Chamber{{Low: 12, High: 12}}}
		for _, f := range tt.factors {
			req.Factors = append(req.Factors, trialtest.Factor(t, f))
		}
		for _, h := range tt.hold {
			x, err := trial.ParseHeld(h)
			if err != nil {
				t.Fatal(err)
			}
			req.Held = append(req.Held, x)
		}
		said := strings.Join(trialtest.Plan(t, req).Assumed, "\n")
		for _, w := range tt.want {
			if !strings.Contains(said, w) {
				t.Errorf("%v: nothing says %q in %s", tt.factors, w, said)
			}
		}
		for _, w := range tt.not {
			if strings.Contains(said, w) {
				t.Errorf("%v: %q is told in %s", tt.factors, w, said)
			}
		}
	}
}

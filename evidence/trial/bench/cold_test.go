package bench_test

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
)

func chillWords(p *trial.Plan) map[string]int {
	out := map[string]int{}
	for _, d := range p.Dishes {
		for _, s := range d.Steps {
			if s.Act == trial.ActChill {
				out[s.Do]++
			}
		}
	}
	return out
}

func TestColdPlaces(t *testing.T) {
	at := func(low, high float64) trial.Chamber { return trial.Chamber{Low: low, High: high} }
	tests := []struct {
		name     string
		chambers []trial.Chamber
		factors  []string
		runs     int
		want     []string // steps
		warn     string
	}{
		{"one refrigerator", []trial.Chamber{at(12, 12)}, []string{"stratification-length=30,60"}, 1,
			[]string{"at 4 °C in the refrigerator for 30 days", "at 4 °C in the refrigerator for 60 days"}, ""},
		{"two temperatures, one refrigerator", []trial.Chamber{at(12, 12)}, []string{"stratification-temperature=4,8"}, 1,
			[]string{"at 4 °C in the refrigerator", "at 8 °C for 60 days"}, "no place is free to hold dishes at 8 °C"},
		{"a chamber for the second", []trial.Chamber{at(12, 12), at(7, 9)}, []string{"stratification-temperature=4,8"}, 1,
			[]string{"at 4 °C in the refrigerator", "at 8 °C in chamber 2"}, ""},
		{"repeats that lie together", []trial.Chamber{at(12, 12), at(8, 12)}, []string{"stratification-temperature=4,8"}, 2,
			[]string{"at 4 °C in the refrigerator"}, "they stand in the same cold place"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			req := design.Request{Eggs: 600, Start: trialtest.Start, Chambers: tt.chambers, Runs: tt.runs}
			for _, f := range tt.factors {
				req.Factors = append(req.Factors, trialtest.Factor(t, f))
			}
			p := trialtest.Plan(t, req)
			words := fmt.Sprint(chillWords(p))
			for _, w := range tt.want {
				if !strings.Contains(words, w) {
					t.Errorf("steps %s, want %q", words, w)
				}
			}
			warned := strings.Join(p.Warnings, "\n")
			if tt.warn == "" && strings.Contains(warned, "no place") || !strings.Contains(warned, tt.warn) {
				t.Errorf("warnings %q, want %q", warned, tt.warn)
			}
		})
	}
}

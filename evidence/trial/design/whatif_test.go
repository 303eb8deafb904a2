package design

import (
	"testing"

	"hatchlore/evidence/trial"
)

func TestWhatIfs(t *testing.T) {
	p, err := New(Request{Eggs: 200, Start: start, Factors: []trial.Factor{parse(t, "drying=0,14"), parse(t, "light=dark,12:12")}, WhatIf: []int{20, 120, 240, 480}})
	if err != nil {
		t.Fatal(err)
	}
	rows := p.WhatIf
	if rows[0].Refusal == "" || rows[1].Refusal != "" {
		t.Errorf("rows %+v", rows[:2])
	}
	for i := 2; i < 4; i++ {
		if rows[i].Power[0].Power < rows[i-1].Power[0].Power {
			t.Errorf("%d eggs promise %v, %d promise %v", rows[i].Eggs, rows[i].Power[0], rows[i-1].Eggs, rows[i-1].Power[0])
		}
	}
	if _, err := New(Request{Eggs: 200, Start: start, Factors: []trial.Factor{parse(t, "drying=0,14")}, WhatIf: []int{0}}); err == nil {
		t.Error("no eggs pass")
	}
}

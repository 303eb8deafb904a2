package design

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// The default search: six questions, 240 eggs, two chambers, set beside half and
// double the eggs. It is to stay under 3 s on two cores.
func BenchmarkNew(b *testing.B) {
	n := func(v float64) *float64 { return &v }
	req := Request{Taxon: "Branchinecta exempli", Eggs: 240, Start: start, Seed: 7, Chambers: []trial.Chamber{{Low: 5, High: 5}, {Low: 12, High: 12}},
		Questions: []trial.Question{
			{ID: "1", Kind: trial.KindNeed, Factor: evidence.Drying, Levels: []trial.Level{{Category: "required", Value: n(28), Side: 1}, {Category: "not-required", Side: 2}}},
			{ID: "2", Kind: trial.KindOpposed, Factor: evidence.Drying, Levels: []trial.Level{{Value: n(3), Side: 1, Bearing: evidence.Favours}, {Value: n(3), Side: 2, Bearing: evidence.Prevents}}},
			{ID: "3", Kind: trial.KindApart, Factor: evidence.ColdLength, Levels: []trial.Level{{Value: n(0)}, {Value: n(30), Side: 1}, {Value: n(90), Side: 2}}},
			{ID: "4", Kind: trial.KindApart, Factor: evidence.WarmTemperature, Levels: []trial.Level{{Value: n(5), Side: 1}, {Value: n(12), Side: 2}}},
			{ID: "5", Kind: trial.KindApart, Factor: evidence.Trigger, Levels: []trial.Level{{Category: "flooding", Side: 1}, {Category: "low-oxygen", Side: 2}, {Category: "carbon-dioxide", Side: 3}}},
			{ID: "6", Kind: trial.KindApart, Factor: evidence.Conductivity, Levels: []trial.Level{{Value: n(150), Side: 1}, {Value: n(640), Side: 2}}},
		}}
	req.WhatIf = req.HalfAndDouble()
	for b.Loop() {
		if _, err := New(req); err != nil {
			b.Fatal(err)
		}
	}
}

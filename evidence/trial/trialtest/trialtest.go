// Package trialtest makes plans and invents counts for the tests of the
// packages around a trial. Nothing but tests imports it.
package trialtest

import (
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
)

// Start is the first day of the plans: a Saturday.
var Start = trial.Day{Year: 2026, Month: 1, Date: 10}

// Factor reads a factor or ends the test.
func Factor(t testing.TB, s string) trial.Factor {
	t.Helper()
	f, err := trial.ParseFactor(s)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Plan lays a request out or ends the test.
func Plan(t testing.TB, req design.Request) *trial.Plan {
	t.Helper()
	p, err := design.New(req)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Sheet reads a sheet of counts or ends the test.
func Sheet(t testing.TB, s string) *counts.Sheet {
	t.Helper()
	c, err := counts.Read(strings.NewReader(s))
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Questions lays out a trial of three questions, one of each kind.
func Questions(t testing.TB, eggs int) *trial.Plan {
	t.Helper()
	n := func(v float64) *float64 { return &v }
	return Plan(t, design.Request{Taxon: "Branchinecta exempli", Eggs: eggs, Start: Start, Seed: 3, Chambers: []trial.Chamber{{Low: 8, High: 8}},
		Questions: []trial.Question{
			{ID: "dry", Kind: trial.KindNeed, Factor: evidence.Drying, Levels: []trial.Level{{Category: "required", Side: 1}, {Category: "not-required", Side: 2}}},
			{ID: "cold", Kind: trial.KindApart, Factor: evidence.ColdLength, Levels: []trial.Level{{Value: n(0), Side: 1}, {Value: n(60), Side: 2}}},
			{ID: "lit", Kind: trial.KindOpposed, Factor: evidence.Light, Levels: []trial.Level{
				{Category: "light-required", Side: 1, Bearing: evidence.Favours}, {Category: "dark", Side: 2, Bearing: evidence.Prevents}}},
		}})
}

// Hatch invents the counts of a plan: each dish hatches with the chance that
// chance gives, over three looks.
func Hatch(t testing.TB, p *trial.Plan, seed uint64, chance func(trial.Dish) float64) *counts.Sheet {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1))
	var sheet strings.Builder
	w := csv.NewWriter(&sheet)
	row := func(cells ...string) {
		if err := w.Write(cells); err != nil {
			t.Fatal(err)
		}
	}
	row("dish", "date", "emerged", "hatched", "dead")
	for _, d := range p.Dishes {
		s, err := spread.BetaBinomial{N: d.Eggs, P: chance(d), Rho: p.Odds.Rho}.Sampler()
		if err != nil {
			t.Fatal(err)
		}
		left := s.Draw(r)
		for day := 1; day <= 3; day++ {
			n := left
			if day < 3 {
				n = r.IntN(left + 1)
			}
			left -= n
			row(d.Label, p.Runs[d.Run-1].Trigger.Add(day).String(), fmt.Sprint(left), fmt.Sprint(n), "0")
		}
	}
	w.Flush()
	return Sheet(t, sheet.String())
}

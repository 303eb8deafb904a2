package trial

import (
	"math"
	"math/rand/v2"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
)

// The plan's power is that of the t test on dish fractions: 40,000 trials in R
// (standard error 0.0025), 4,000 here (0.006).
func TestPlanPower(t *testing.T) {
	for _, tt := range []struct {
		base, difference float64
		eggs             int
		rho              float64
		dishes           int
		want             float64
	}{{0.3, 0.2, 25, 0.05, 9, 0.790}, {0.3, 0.2, 50, 0.05, 7, 0.769}, {0.3, 0.2, 25, 0, 4, 0.693}, {0.2, 0.3, 20, 0.1, 6, 0.758}} {
		p, err := New(Request{Eggs: 2 * tt.dishes * tt.eggs, KeepBack: new(0), Dishes: 2 * tt.dishes, EggsPerDish: tt.eggs, Start: start,
			BaseFraction: tt.base, Difference: tt.difference, Rho: &tt.rho, Factors: []Factor{factor(t, "drying=0,14")}})
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Power[0].Power; len(p.Dishes) != 2*tt.dishes || math.Abs(got-tt.want) > 0.025 {
			t.Errorf("%+v: power %v in %d dishes", tt, got, len(p.Dishes))
		}
	}
}

// Chambers that differ from run to run must not make a temperature look
// effective: against its runs the test keeps its size, against dishes it would
// find a difference far more often.
func TestRunsKeepTheSize(t *testing.T) {
	p, err := New(Request{Eggs: 900, Start: start, Seed: 5, Runs: 3, Chambers: []Chamber{{Low: 4, High: 15}, {Low: 4, High: 15}},
		Factors: []Factor{factor(t, "incubation-temperature=5,12"), factor(t, "drying=0,14")}})
	if err != nil {
		t.Fatal(err)
	}
	const trials = 400
	byRuns, byDishes := 0, 0
	for k := range uint64(trials) {
		r := rand.New(rand.NewPCG(k, 77))
		chance := make([]float64, len(p.Runs)+1)
		for i := range chance {
			chance[i] = stat.DrawBeta(0.4, 0.1, r)
		}
		c := hatchPlan(t, p, k, func(d Dish) float64 { return chance[d.Run] })
		res, err := p.Weigh(c, WeighOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if res.Model.Terms[1].P < 0.05 {
			byRuns++
		}
		if dishTest(t, p, c) < 0.05 {
			byDishes++
		}
	}
	if share := float64(byRuns) / trials; share < 0.02 || share > 0.09 {
		t.Errorf("a temperature without effect is found in %.3f of trials", share)
	}
	if share := float64(byDishes) / trials; share < 0.15 {
		t.Errorf("tested against dishes it is found in %.3f of trials only: the check has no teeth", share)
	}
}

// dishTest is the wrong test: temperature against the spread of dishes.
func dishTest(t *testing.T, p *Plan, c *Counts) float64 {
	t.Helper()
	dishes, err := p.counted(c)
	if err != nil {
		t.Fatal(err)
	}
	table := stat.Table{Names: []string{"temperature"}, Columns: make([][]string, 1)}
	for _, d := range dishes {
		table.Columns[0] = append(table.Columns[0], p.Dishes[d.planned].Levels[evidence.WarmTemperature].String())
		table.Counts = append(table.Counts, stat.Count{Hatched: d.hatched, Eggs: d.eggs})
	}
	m, err := stat.NewModel(table, []string{"temperature"})
	if err != nil {
		t.Fatal(err)
	}
	f, err := stat.FitQuasi(m)
	if err != nil {
		t.Fatal(err)
	}
	return f.P[1]
}

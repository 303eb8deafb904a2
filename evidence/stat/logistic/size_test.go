package logistic

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/stat/stattest"
)

// The quasi-binomial F test keeps its size, between 0.04 and 0.06, where a test
// that ignores dishes calls 19 to 25 % of null trials significant; power and
// size by 40,000 trials in R, 6,000 here.
func TestQuasiSizeAndPower(t *testing.T) {
	tests := []struct {
		p1, p2 float64
		eggs   int
		rho    float64
		dishes int
		want   float64
	}{{0.3, 0.3, 25, 0.05, 9, 0.049}, {0.2, 0.2, 20, 0.1, 6, 0.051}, {0.3, 0.5, 25, 0.05, 9, 0.784},
		{0.3, 0.5, 50, 0.05, 7, 0.762}, {0.3, 0.5, 25, 0, 4, 0.680}, {0.2, 0.5, 20, 0.1, 6, 0.742}}
	r := rand.New(rand.NewPCG(5, 5))
	for _, tt := range tests {
		trials := 6000.0
		if tt.p1 != tt.p2 {
			trials = 2000
		}
		found := 0
		for range int(trials) {
			if quasiFinds(t, tt.p1, tt.p2, tt.eggs, tt.rho, tt.dishes, r) {
				found++
			}
		}
		share := float64(found) / trials
		stattest.Near(t, "share found", share, tt.want, 0.012+2*math.Sqrt(tt.want*(1-tt.want)/trials))
		if tt.p1 == tt.p2 && (share < 0.04 || share > 0.06) {
			t.Errorf("size %v", share)
		}
	}
}

func quasiFinds(t *testing.T, p1, p2 float64, eggs int, rho float64, dishes int, r *rand.Rand) bool {
	t.Helper()
	table := Table{Names: []string{"g"}, Columns: make([][]string, 1)}
	for g, p := range []float64{p1, p2} {
		s, err := spread.BetaBinomial{N: eggs, P: p, Rho: rho}.Sampler()
		if err != nil {
			t.Fatal(err)
		}
		for range dishes {
			table.Columns[0] = append(table.Columns[0], strconv.Itoa(g))
			table.Counts = append(table.Counts, stat.Count{Hatched: s.Draw(r), Eggs: eggs})
		}
	}
	m := model(t, table, "g")
	f := fitted(t, FitQuasi, m)
	test, err := f.Test(m, []int{1})
	if err != nil {
		t.Fatal(err)
	}
	return test.P < 0.05
}

package spread

import (
	"math"
	"math/rand/v2"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/compare"
	"hatchlore/evidence/stat/stattest"
)

// Kish 1965; the formula was read in Stata Technical Bulletin STB-60, sts18.
func TestDesignEffect(t *testing.T) {
	tests := []struct {
		m    int
		rho  float64
		want float64
	}{{25, 0.05, 2.2}, {50, 0.02, 1.98}, {20, 0.1, 2.9}, {100, 0.01, 1.99}, {7, 0, 1}, {7, 1, 7}}
	for _, tt := range tests {
		stattest.Near(t, "design effect", DesignEffect(tt.m, tt.rho), tt.want, 1e-12)
	}
}

// Closed forms; P(0), P(3) and P(10) computed in R from beta functions.
func TestBetaBinomial(t *testing.T) {
	b := BetaBinomial{N: 10, P: 0.4, Rho: 1.0 / 6}
	stattest.Near(t, "mean", b.Mean(), 4, 1e-8)
	stattest.Near(t, "variance", b.Variance(), 6, 1e-8)
	stattest.Near(t, "P(0)", b.Prob(0), 0.06593407, 1e-8)
	stattest.Near(t, "P(3)", b.Prob(3), 0.14385614, 1e-8)
	stattest.Near(t, "P(10)", b.Prob(10), 0.01098901, 1e-8)
}

func TestBetaBinomialSums(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	rhos := []float64{0, 1e-9, 0.01, 0.3, 0.99, 1}
	for range 200 {
		b := BetaBinomial{N: r.IntN(60), P: r.Float64(), Rho: rhos[r.IntN(len(rhos))]}
		var sum, mean, square float64
		for x := -1; x <= b.N+1; x++ {
			p := b.Prob(x)
			sum += p
			mean += p * float64(x)
			square += p * float64(x) * float64(x)
		}
		stattest.Near(t, "sum", sum, 1, 1e-9)
		stattest.Near(t, "mean", mean, b.Mean(), 1e-8)
		stattest.Near(t, "variance", square-mean*mean, b.Variance(), 1e-6)
	}
	for _, b := range []BetaBinomial{{-1, 0.5, 0}, {5, 2, 0}, {5, 0.5, -1}, {5, math.NaN(), 0}} {
		if _, err := b.Sampler(); err == nil {
			t.Errorf("%v has a sampler", b)
		}
	}
}

// Pearson's chi-squared on the sums of the dishes, as if every egg hatched by
// itself: the same trials in R.
func TestIgnoringDishesMisleads(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, tt := range []struct {
		p1, p2 float64
		eggs   int
		rho    float64
		dishes int
		want   float64
	}{{0.3, 0.3, 25, 0.05, 9, 0.189}, {0.2, 0.2, 20, 0.1, 6, 0.252}, {0.3, 0.5, 25, 0.05, 9, 0.947},
		{0.3, 0.5, 50, 0.05, 7, 0.968}, {0.3, 0.5, 25, 0, 4, 0.831}, {0.2, 0.5, 20, 0.1, 6, 0.965}} {
		const trials = 20000
		one, other := sampler(t, tt.eggs, tt.p1, tt.rho), sampler(t, tt.eggs, tt.p2, tt.rho)
		found := 0
		for range trials {
			a, b := stat.Count{Eggs: tt.eggs * tt.dishes}, stat.Count{Eggs: tt.eggs * tt.dishes}
			for range tt.dishes {
				a.Hatched += one.Draw(r)
				b.Hatched += other.Draw(r)
			}
			if x, _ := compare.ChiSquared(a, b); stat.ChiSquaredTail(x, 1) < 0.05 {
				found++
			}
		}
		stattest.Near(t, "share called different", float64(found)/trials, tt.want, 0.012)
	}
}

func sampler(t *testing.T, eggs int, p, rho float64) *Sampler {
	t.Helper()
	s, err := BetaBinomial{eggs, p, rho}.Sampler()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

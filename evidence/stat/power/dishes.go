package power

import (
	"math"
	"math/rand/v2"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/stat/spread"
)

// Dishes simulates the power, at the two-sided 5 % level, of the t test on the
// fractions of dishes of m eggs, with k dishes in each of two groups that hatch
// with chances p1 and p2 and correlation rho within dishes. It counts a find in
// either direction, so that equal chances give the test's size.
func Dishes(p1, p2 float64, m int, rho float64, k, trials int, r *rand.Rand) (float64, error) {
	a, err := spread.BetaBinomial{N: m, P: p1, Rho: rho}.Sampler()
	if err != nil {
		return 0, err
	}
	b, err := spread.BetaBinomial{N: m, P: p2, Rho: rho}.Sampler()
	if err != nil {
		return 0, err
	}
	first, second, w := make([]float64, 2*k), make([]float64, 2*k), make([]float64, 2*k)
	for i := range k {
		first[i], second[k+i] = 1, 1
		w[i], w[k+i] = -1/float64(k), 1/float64(k)
	}
	space, err := linear.NewErrorSpace([][]float64{first, second})
	if err != nil {
		return 0, err
	}
	crit := stat.StudentQuantile(0.975, float64(space.DF()))
	y, found := make([]float64, 2*k), 0
	for range trials {
		for i := range k {
			y[i], y[k+i] = float64(a.Draw(r))/float64(m), float64(b.Draw(r))/float64(m)
		}
		if math.Abs(space.T(w, y)) > crit {
			found++
		}
	}
	return float64(found) / float64(trials), nil
}

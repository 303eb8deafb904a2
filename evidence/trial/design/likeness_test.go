package design

import (
	"math"
	"math/rand/v2"
	"testing"

	"hatchlore/evidence/stat/spread"
)

func TestTogether(t *testing.T) {
	if got := Together(nil); got != defaultRho {
		t.Errorf("no trial: %v", got)
	}
	// Of 28 degrees of freedom and 5 eggs a dish: 5·4·28/(2·1.14²) = 215.4 beside 400.
	if got := Together([]Likeness{{Rho: 0, DF: 28, EggsPerDish: 5}}); math.Abs(got-400*0.05/615.4) > 1e-4 {
		t.Errorf("one small trial in which dishes agreed: %v", got)
	}
	if got := Together([]Likeness{{Rho: 0.3, DF: 5000, EggsPerDish: 20}}); math.Abs(got-0.3) > 0.001 {
		t.Errorf("many dishes: %v", got)
	}
	for _, l := range []Likeness{{Rho: 0.9, DF: 0, EggsPerDish: 10}, {Rho: 0.9, DF: 9, EggsPerDish: 1}} {
		if got := Together([]Likeness{l}); got != defaultRho {
			t.Errorf("%+v tells nothing, not %v", l, got)
		}
	}
}

// The formula's variance is that of the moment estimate over simulated dishes,
// within a third: enough to weigh trials by.
func TestPrecision(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, m := range []int{5, 10, 25} {
		s, err := spread.BetaBinomial{N: m, P: 0.4, Rho: defaultRho}.Sampler()
		if err != nil {
			t.Fatal(err)
		}
		const dishes, trials = 21, 4000
		var sum, square float64
		for range trials {
			rho := moments(s, m, dishes, r)
			sum, square = sum+rho, square+rho*rho
		}
		mean := sum / trials
		seen := square/trials - mean*mean
		if want := 1 / (Likeness{DF: dishes - 1, EggsPerDish: float64(m)}).precision(); seen < want/1.34 || seen > want*1.34 {
			t.Errorf("%d eggs a dish: variance %v, by the formula %v", m, seen, want)
		}
	}
}

// moments draws dishes and returns the likeness that their squares show, below 0
// too.
func moments(s *spread.Sampler, m, dishes int, r *rand.Rand) float64 {
	x, all := make([]float64, dishes), 0.0
	for i := range x {
		x[i] = float64(s.Draw(r)) / float64(m)
		all += x[i] / float64(dishes)
	}
	var between float64
	for _, v := range x {
		between += (v - all) * (v - all) / float64(dishes-1)
	}
	binomial := all * (1 - all) / float64(m)
	return (between/binomial - 1) / float64(m-1)
}

package stat

import (
	"math"
	"math/rand/v2"
	"testing"
)

// R's help page of power.prop.test prints 0.740, 76.7 and 0.8026 for the first
// three; sizes are Fleiss 1981 chapter 3 and Fleiss, Tytun and Ury 1980.
func TestPairs(t *testing.T) {
	near(t, "power .5 v .75, n 50", PairPower(0.5, 0.75, 50, 0.05), 0.7401659, 1e-6)
	near(t, "size .5 v .75", PairSize(0.5, 0.75, 0.90, 0.05), 76.7069, 1e-3)
	near(t, "fraction found from .5", DetectableFraction(0.5, 50, 0.90, 0.05), 0.80263058, 1e-7)
	near(t, "alpha for .5 v .9", LevelFor(0.5, 0.9, 50, 0.90), 0.00132136, 1e-8)
	near(t, "power .3 v .5, n 100", PairPower(0.3, 0.5, 100, 0.05), 0.8281094, 1e-6)
	sizes := []struct{ p1, p2, power, n, corrected float64 }{
		{0.30, 0.50, 0.80, 92.9988, 102.7555},
		{0.10, 0.30, 0.80, 61.5988, 71.2479},
		{0.25, 0.40, 0.90, 202.8095, 215.9370}, // Fleiss Table A.3 has 216
		{0.60, 0.70, 0.80, 355.9428, 375.6766},
	}
	for _, s := range sizes {
		near(t, "size", PairSize(s.p1, s.p2, s.power, 0.05), s.n, 1e-3)
		near(t, "corrected size", PairSizeCorrected(s.p1, s.p2, s.power, 0.05), s.corrected, 1e-3)
	}
	near(t, "unpooled size", PairSizeUnpooled(0.3, 0.5, 0.8, 0.05), 90.2621, 1e-3)
	if !math.IsNaN(DetectableFraction(0.9, 5, 0.9, 0.05)) {
		t.Error("five eggs a group find something above 0.9")
	}
}

// Cohen 1988: the equation of h, and exercise 6.1 (p. 198) for the power.
func TestArcsine(t *testing.T) {
	h := ArcsineEffect(0.5, 0.3)
	near(t, "h", h, 0.41151685, 1e-6)
	near(t, "size", ArcsineSize(h, 0.80, 0.05), 92.69608, 1e-4)
	near(t, "power", ArcsinePower(0.3, 80, 0.05), 0.5996777, 1e-6)
}

// Full enumeration in R.
func TestFisherPower(t *testing.T) {
	near(t, "10+10", FisherPower(0.1, 0.6, 10, 10, 0.05), 0.4739611, 1e-6)
	near(t, "20+20", FisherPower(0.3, 0.7, 20, 20, 0.05), 0.5993831, 1e-6)
	near(t, "15+15", FisherPower(0.05, 0.5, 15, 15, 0.05), 0.7364018, 1e-6)
}

// Kish 1965; the formula was read in Stata Technical Bulletin STB-60, sts18.
func TestDesignEffect(t *testing.T) {
	tests := []struct {
		m    int
		rho  float64
		want float64
	}{{25, 0.05, 2.2}, {50, 0.02, 1.98}, {20, 0.1, 2.9}, {100, 0.01, 1.99}, {7, 0, 1}, {7, 1, 7}}
	for _, tt := range tests {
		near(t, "design effect", DesignEffect(tt.m, tt.rho), tt.want, 1e-12)
	}
	dishes := []struct {
		m    int
		rho  float64
		n    int
		eggs float64
	}{{25, 0.05, 9, 204.597}, {50, 0.05, 7, 320.846}, {20, 0.1, 14, 269.697}, {10, 0, 10, 92.999}, {10, 1, 93, 929.988}}
	for _, tt := range dishes {
		n, eggs := DishesPerArm(92.99884, tt.m, tt.rho)
		if n != tt.n {
			t.Errorf("%d eggs a dish, correlation %v: %d dishes, want %d", tt.m, tt.rho, n, tt.n)
		}
		near(t, "eggs", eggs, tt.eggs, 1e-3)
	}
}

// Closed forms; P(0), P(3) and P(10) computed in R from beta functions.
func TestBetaBinomial(t *testing.T) {
	b := BetaBinomial{N: 10, P: 0.4, Rho: 1.0 / 6}
	near(t, "mean", b.Mean(), 4, 1e-8)
	near(t, "variance", b.Variance(), 6, 1e-8)
	near(t, "P(0)", b.Prob(0), 0.06593407, 1e-8)
	near(t, "P(3)", b.Prob(3), 0.14385614, 1e-8)
	near(t, "P(10)", b.Prob(10), 0.01098901, 1e-8)
	near(t, "none of 25", NoneChance(0.1, 25), 0.07178980, 1e-8)
	near(t, "eggs for one", EggsForOne(0.02, 0.95), 148.28, 0.01)
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
		near(t, "sum", sum, 1, 1e-9)
		near(t, "mean", mean, b.Mean(), 1e-8)
		near(t, "variance", square-mean*mean, b.Variance(), 1e-6)
	}
	for _, b := range []BetaBinomial{{-1, 0.5, 0}, {5, 2, 0}, {5, 0.5, -1}, {5, math.NaN(), 0}} {
		if _, err := b.Sampler(); err == nil {
			t.Errorf("%v has a sampler", b)
		}
	}
}

// The power of the t test on dish fractions, by 40,000 trials in R (standard
// error up to 0.0025); 20,000 trials here, so 0.012 is wide enough.
func TestDishPower(t *testing.T) {
	tests := []struct {
		p1, p2 float64
		eggs   int
		rho    float64
		dishes int
		want   float64
	}{
		{0.3, 0.5, 25, 0.05, 9, 0.790},
		{0.3, 0.5, 50, 0.05, 7, 0.769},
		{0.3, 0.5, 25, 0, 4, 0.693},
		{0.2, 0.5, 20, 0.1, 6, 0.758},
		{0.3, 0.3, 25, 0.05, 9, 0.050},
		{0.2, 0.2, 20, 0.1, 6, 0.048},
	}
	for _, tt := range tests {
		got, err := DishPower(tt.p1, tt.p2, tt.eggs, tt.rho, tt.dishes, 20000, rand.New(rand.NewPCG(17, 4)))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "power", got, tt.want, 0.012)
	}
}

// The normal approximation with the design effect promises more than dishes
// keep: compare TestDishPower (R's power.prop.test at the effective number of
// eggs).
func TestDesignEffectPromisesTooMuch(t *testing.T) {
	for _, tt := range []struct {
		p1, p2 float64
		eggs   int
		rho    float64
		dishes int
		want   float64
	}{{0.3, 0.5, 25, 0.05, 9, 0.8365}, {0.3, 0.5, 50, 0.05, 7, 0.8335}, {0.3, 0.5, 25, 0, 4, 0.8281}, {0.2, 0.5, 20, 0.1, 6, 0.8287}} {
		n := float64(tt.eggs*tt.dishes) / DesignEffect(tt.eggs, tt.rho)
		near(t, "promise", PairPower(tt.p1, tt.p2, n, 0.05), tt.want, 5e-5)
	}
}

package stat_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

// Newcombe 1998, Statistics in Medicine 17:857-872, Table I for the first four;
// digits from R's prop.test and binom.test and from statsmodels, which agree.
func TestProportionIntervals(t *testing.T) {
	tests := []struct {
		c                          stat.Count
		wilson, corrected, cp, mid stat.Interval
	}{
		{stat.Count{81, 263}, stat.Interval{0.25528852, 0.36620958}, stat.Interval{0.253509, 0.368176}, stat.Interval{0.25273675, 0.36762192}, stat.Interval{0.254402, 0.365773}},
		{stat.Count{15, 148}, stat.Interval{0.06238640, 0.16048724}, stat.Interval{0.059778, 0.164450}, stat.Interval{0.05784401, 0.16165049}, stat.Interval{0.060064, 0.158122}},
		{stat.Count{0, 20}, stat.Interval{0, 0.16112516}, stat.Interval{0, 0.200453}, stat.Interval{0, 0.16843347}, stat.Interval{0, 0.139108}},
		{stat.Count{1, 29}, stat.Interval{0.00611321, 0.17175522}, stat.Interval{0.001803, 0.196282}, stat.Interval{0.00087265, 0.17764430}, stat.Interval{0.001725, 0.158537}},
		{stat.Count{20, 20}, stat.Interval{0.83887484, 1}, stat.Interval{0.799547, 1}, stat.Interval{0.83156653, 1}, stat.Interval{0.860892, 1}},
		{stat.Count{0, 100}, stat.Interval{0, 0.03699350}, stat.Interval{0, 0.046101}, stat.Interval{0, 0.03621669}, stat.Interval{0, 0.029513}},
		{stat.Count{10, 39}, stat.Interval{0.14568781, 0.41081656}, stat.Interval{0.136005, 0.424347}, stat.Interval{0.13037680, 0.42127388}, stat.Interval{0.138214, 0.409637}},
	}
	for _, tt := range tests {
		stattest.NearInterval(t, "Wilson", stat.Wilson(tt.c, 0.95), tt.wilson.Low, tt.wilson.High, 1e-6)
		stattest.NearInterval(t, "Wilson corrected", stat.WilsonCorrected(tt.c, 0.95), tt.corrected.Low, tt.corrected.High, 2e-6)
		stattest.NearInterval(t, "Clopper-Pearson", stat.ClopperPearson(tt.c, 0.95), tt.cp.Low, tt.cp.High, 1e-6)
		stattest.NearInterval(t, "mid-P", stat.MidP(tt.c, 0.95), tt.mid.Low, tt.mid.High, 2e-6)
	}
}

func TestExactIntervals(t *testing.T) {
	// Conover 1999, as quoted by a statistics teaching site: 0.068 to 0.407.
	stattest.NearInterval(t, "5/25", stat.ClopperPearson(stat.Count{5, 25}, 0.95), 0.06831146, 0.40703743, 1e-6)
	// NIST/SEMATECH e-Handbook 7.2.4.2, its worked example at 90 %.
	stattest.NearInterval(t, "4/20 at 90 %", stat.ClopperPearson(stat.Count{4, 20}, 0.90), 0.07135388, 0.40102812, 1e-6)
	stattest.NearInterval(t, "81/263 at 90 %", stat.Wilson(stat.Count{81, 263}, 0.90), 0.263314, 0.356566, 1e-6)
	stattest.NearInterval(t, "81/263 at 99 %", stat.Wilson(stat.Count{81, 263}, 0.99), 0.240137, 0.385283, 1e-6)
	// Closed form 1-0.05^(1/n); the rule of three gives 0.1 and 0.03.
	stattest.Near(t, "none of 30", stat.NoneHatchedLimit(30, 0.95), 0.09503385, 1e-8)
	stattest.Near(t, "none of 100", stat.NoneHatchedLimit(100, 0.95), 0.02951305, 1e-8)
}

// The interval is the formula of NIST/SEMATECH e-Handbook 7.2.4.1, whose limits
// a Wald interval leaves: that of 1/29 begins at -0.031927.
func TestWilsonFormula(t *testing.T) {
	z := stat.NormalQuantile(0.975)
	for _, c := range []stat.Count{{81, 263}, {1, 29}, {0, 20}, {20, 20}, {3, 7}} {
		p, n := c.Fraction(), float64(c.Eggs)
		middle, half := p+z*z/(2*n), z*math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
		stattest.NearInterval(t, "by the formula", stat.Wilson(c, 0.95), (middle-half)/(1+z*z/n), (middle+half)/(1+z*z/n), 1e-12)
	}
	p := 1.0 / 29
	stattest.Near(t, "Wald's lower limit", p-z*math.Sqrt(p*(1-p)/29), -0.031927, 1e-6)
	if low := stat.Wilson(stat.Count{1, 29}, 0.95).Low; low <= 0 {
		t.Errorf("Wilson's lower limit is %v", low)
	}
}

// The limits of what did not hatch mirror those of what did, and no interval
// leaves 0 to 1, as a Wald interval of 1/29 would (lower limit -0.032).
func TestIntervalProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	kinds := map[string]func(stat.Count, float64) stat.Interval{"Wilson": stat.Wilson, "corrected": stat.WilsonCorrected, "Clopper-Pearson": stat.ClopperPearson, "mid-P": stat.MidP}
	for range 300 {
		n := 1 + r.IntN(200)
		x := r.IntN(n + 1)
		for name, f := range kinds {
			i, j := f(stat.Count{x, n}, 0.95), f(stat.Count{n - x, n}, 0.95)
			tol := 1e-12
			if name == "Clopper-Pearson" || name == "mid-P" {
				tol = 1e-9 // limits found by bisection on the beta distribution's own digits
			}
			stattest.Near(t, name+" mirrored", i.Low, 1-j.High, tol)
			if !(0 <= i.Low && i.Low <= i.High && i.High <= 1) || !i.Contains(float64(x)/float64(n)) {
				t.Errorf("%s of %d/%d is %v", name, x, n, i)
			}
		}
	}
}

// Newcombe 1998, Statistics in Medicine 17:873-890, Table II method 10; the last
// is Fagerland, Lydersen and Laake 2015 on Perondi 2004, printed 0.019 to 0.34.
func TestNewcombeDifference(t *testing.T) {
	tests := []struct {
		a, b      stat.Count
		low, high float64
	}{
		{stat.Count{56, 70}, stat.Count{48, 80}, 0.052431, 0.333873},
		{stat.Count{9, 10}, stat.Count{3, 10}, 0.170523, 0.809018},
		{stat.Count{6, 7}, stat.Count{2, 7}, 0.058228, 0.806250},
		{stat.Count{5, 56}, stat.Count{0, 29}, -0.038137, 0.192560},
		{stat.Count{0, 10}, stat.Count{0, 20}, -0.161125, 0.277533},
		{stat.Count{10, 10}, stat.Count{0, 20}, 0.679086, 1},
		{stat.Count{10, 10}, stat.Count{0, 10}, 0.607509, 1},
		{stat.Count{7, 34}, stat.Count{1, 34}, 0.018921, 0.340369},
	}
	for _, tt := range tests {
		stattest.NearInterval(t, "difference", stat.NewcombeDifference(tt.a, tt.b, 0.95), tt.low, tt.high, 1e-6)
	}
}

func TestCountCheck(t *testing.T) {
	for _, c := range []stat.Count{{0, 0}, {-1, 5}, {6, 5}} {
		if c.Check() == nil {
			t.Errorf("%v passes", c)
		}
	}
	if (stat.Count{0, 1}).Check() != nil {
		t.Error("0 of 1 fails")
	}
	if !math.IsNaN((stat.Count{}).Fraction()) {
		t.Error("a fraction of no eggs")
	}
}

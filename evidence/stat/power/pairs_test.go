package power

import (
	"math"
	"testing"

	"hatchlore/evidence/stat/stattest"
)

// R's help page of power.prop.test prints 0.740, 76.7 and 0.8026 for the first
// three; sizes are Fleiss 1981 chapter 3 and Fleiss, Tytun and Ury 1980.
func TestPairs(t *testing.T) {
	stattest.Near(t, "power .5 v .75, n 50", Pair(0.5, 0.75, 50, 0.05), 0.7401659, 1e-6)
	stattest.Near(t, "size .5 v .75", PairSize(0.5, 0.75, 0.90, 0.05), 76.7069, 1e-3)
	stattest.Near(t, "fraction found from .5", DetectableFraction(0.5, 50, 0.90, 0.05), 0.80263058, 1e-7)
	stattest.Near(t, "alpha for .5 v .9", LevelFor(0.5, 0.9, 50, 0.90), 0.00132136, 1e-8)
	stattest.Near(t, "power .3 v .5, n 100", Pair(0.3, 0.5, 100, 0.05), 0.8281094, 1e-6)
	sizes := []struct{ p1, p2, power, n, corrected float64 }{
		{0.30, 0.50, 0.80, 92.9988, 102.7555},
		{0.10, 0.30, 0.80, 61.5988, 71.2479},
		{0.25, 0.40, 0.90, 202.8095, 215.9370}, // Fleiss Table A.3 has 216
		{0.60, 0.70, 0.80, 355.9428, 375.6766},
	}
	for _, s := range sizes {
		stattest.Near(t, "size", PairSize(s.p1, s.p2, s.power, 0.05), s.n, 1e-3)
		stattest.Near(t, "corrected size", PairSizeCorrected(s.p1, s.p2, s.power, 0.05), s.corrected, 1e-3)
	}
	stattest.Near(t, "unpooled size", PairSizeUnpooled(0.3, 0.5, 0.8, 0.05), 90.2621, 1e-3)
	if !math.IsNaN(DetectableFraction(0.9, 5, 0.9, 0.05)) {
		t.Error("five eggs a group find something above 0.9")
	}
}

// Cohen 1988: the equation of h, and exercise 6.1 (p. 198) for the power.
func TestArcsine(t *testing.T) {
	h := ArcsineEffect(0.5, 0.3)
	stattest.Near(t, "h", h, 0.41151685, 1e-6)
	stattest.Near(t, "size", ArcsineSize(h, 0.80, 0.05), 92.69608, 1e-4)
	stattest.Near(t, "power", Arcsine(0.3, 80, 0.05), 0.5996777, 1e-6)
}

// Full enumeration in R.
func TestFisherPower(t *testing.T) {
	stattest.Near(t, "10+10", Fisher(0.1, 0.6, 10, 10, 0.05), 0.4739611, 1e-6)
	stattest.Near(t, "20+20", Fisher(0.3, 0.7, 20, 20, 0.05), 0.5993831, 1e-6)
	stattest.Near(t, "15+15", Fisher(0.05, 0.5, 15, 15, 0.05), 0.7364018, 1e-6)
}

// The eggs of TestPairs in dishes, and closed forms.
func TestDishesAndEggs(t *testing.T) {
	for _, tt := range []struct {
		m    int
		rho  float64
		n    int
		eggs float64
	}{{25, 0.05, 9, 204.597}, {50, 0.05, 7, 320.846}, {20, 0.1, 14, 269.697}, {10, 0, 10, 92.999}, {10, 1, 93, 929.988}} {
		n, eggs := DishesPerArm(92.99884, tt.m, tt.rho)
		if n != tt.n {
			t.Errorf("%d eggs a dish, correlation %v: %d dishes, want %d", tt.m, tt.rho, n, tt.n)
		}
		stattest.Near(t, "eggs", eggs, tt.eggs, 1e-3)
	}
	stattest.Near(t, "none of 25", NoneChance(0.1, 25), 0.07178980, 1e-8)
	stattest.Near(t, "eggs for one", EggsForOne(0.02, 0.95), 148.28, 0.01)
}

package compare

import (
	"math"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

func pair(a, b, c, d int) (stat.Count, stat.Count) {
	return stat.Count{Hatched: a, Eggs: a + b}, stat.Count{Hatched: c, Eggs: c + d}
}

// Fisher 1935 (tea tasting), Fisher 1962 (twins, as in R's help), Perondi 2004
// and common textbook tables; digits from R.
func TestFisher(t *testing.T) {
	tests := []struct {
		table    [4]int
		one, two float64
	}{
		{[4]int{3, 1, 1, 3}, 17.0 / 70, 34.0 / 70},
		{[4]int{4, 0, 0, 4}, 1.0 / 70, 2.0 / 70},
		{[4]int{2, 10, 15, 3}, 4.651809e-4, 5.367241e-4},
		{[4]int{1, 9, 11, 3}, -1, 0.00275945619},
		{[4]int{8, 2, 1, 5}, -1, 0.03496503},
		{[4]int{7, 27, 1, 33}, -1, 0.05440013},
		{[4]int{0, 10, 10, 0}, -1, 1.08250882e-5},
		{[4]int{0, 10, 3, 7}, -1, 0.21052632},
		{[4]int{13, 7, 0, 20}, -1, 1.28843288e-5},
	}
	for _, tt := range tests {
		a, b := pair(tt.table[0], tt.table[1], tt.table[2], tt.table[3])
		r := Fisher(a, b)
		stattest.Near(t, "two-sided", r.TwoSided, tt.two, math.Min(1e-8, 1e-6*tt.two))
		if tt.one > 0 {
			stattest.Near(t, "one-sided", min(r.Less, r.Greater), tt.one, math.Min(1e-8, 1e-6*tt.one))
		}
	}
	a, b := pair(3, 1, 1, 3)
	var got []float64
	for _, p := range Margins(a, b) {
		got = append(got, 70*p)
	}
	stattest.NearAll(t, "tea tasting, times 70", got, []float64{1, 16, 36, 16, 1}, 1e-9)
}

// The printed values are R's fisher.test, whose root finder stops at 1.2e-4 on
// the scale of the odds ratio or its inverse; the limits here are judged by
// their own definition as well.
func TestOddsRatio(t *testing.T) {
	a, b := pair(3, 1, 1, 3)
	stattest.Near(t, "tea", OddsRatio(a, b), 6.408309, 2e-5)
	stattest.Near(t, "tea, one-sided 95 %", OddsRatioInterval(a, b, 0.90).Low, 0.3135693, 1e-5)
	a, b = pair(2, 10, 15, 3)
	stattest.Near(t, "twins", OddsRatio(a, b), 0.04693661, 1e-4)
	stattest.NearInterval(t, "twins", OddsRatioInterval(a, b, 0.95), 0.003325764, 0.3631823, 1e-4)
	i := OddsRatioInterval(a, b, 0.95)
	c := condition(a, b)
	stattest.Near(t, "twins, tail above the low limit", total(c.at(math.Log(i.Low))[2:]), 0.025, 1e-12)
	stattest.Near(t, "twins, tail below the high limit", total(c.at(math.Log(i.High))[:3]), 0.025, 1e-12)
	a, b = pair(13, 7, 0, 20)
	i = OddsRatioInterval(a, b, 0.95)
	stattest.Near(t, "13/20 against 0/20", 1/i.Low, 1/6.1444944, 1.2e-4)
	if !math.IsInf(i.High, 1) || !math.IsInf(OddsRatio(a, b), 1) {
		t.Errorf("an empty corner gives %v", i)
	}
}

// Perondi 2004: 7 of 34 against 1 of 34. Boschloo and Barnard are from scipy,
// which takes the columns of a table as groups: 7 of 8 against 27 of 60.
func TestUnconditional(t *testing.T) {
	a, b := pair(7, 27, 1, 33)
	pearson, yates := ChiSquared(a, b)
	stattest.Near(t, "Pearson", pearson, 5.1, 1e-6)
	stattest.Near(t, "Pearson p", stat.ChiSquaredTail(pearson, 1), 0.02392584, 1e-6)
	stattest.Near(t, "Yates", yates, 3.541667, 1e-6)
	stattest.Near(t, "Yates p", stat.ChiSquaredTail(yates, 1), 0.05984530, 1e-6)
	a, b = pair(7, 1, 27, 33)
	stattest.Near(t, "Boschloo", Boschloo(a, b), 0.025494, 1e-3)
	stattest.Near(t, "Barnard", Barnard(a, b), 0.050489, 1e-3)
}

package stat

import (
	"math"
	"testing"
)

func pair(a, b, c, d int) (Count, Count) { return Count{a, a + b}, Count{c, c + d} }

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
		near(t, "two-sided", r.TwoSided, tt.two, math.Min(1e-8, 1e-6*tt.two))
		if tt.one > 0 {
			near(t, "one-sided", min(r.Less, r.Greater), tt.one, math.Min(1e-8, 1e-6*tt.one))
		}
	}
	a, b := pair(3, 1, 1, 3)
	var got []float64
	for _, p := range Margins(a, b) {
		got = append(got, 70*p)
	}
	nearAll(t, "tea tasting, times 70", got, []float64{1, 16, 36, 16, 1}, 1e-9)
}

// The printed values are R's fisher.test, whose root finder stops at 1.2e-4 on
// the scale of the odds ratio or its inverse; the limits here are judged by
// their own definition as well.
func TestOddsRatio(t *testing.T) {
	a, b := pair(3, 1, 1, 3)
	near(t, "tea", OddsRatio(a, b), 6.408309, 2e-5)
	near(t, "tea, one-sided 95 %", OddsRatioInterval(a, b, 0.90).Low, 0.3135693, 1e-5)
	a, b = pair(2, 10, 15, 3)
	near(t, "twins", OddsRatio(a, b), 0.04693661, 1e-4)
	nearInterval(t, "twins", OddsRatioInterval(a, b, 0.95), 0.003325764, 0.3631823, 1e-4)
	i := OddsRatioInterval(a, b, 0.95)
	c := condition(a, b)
	near(t, "twins, tail above the low limit", total(c.at(math.Log(i.Low))[2:]), 0.025, 1e-12)
	near(t, "twins, tail below the high limit", total(c.at(math.Log(i.High))[:3]), 0.025, 1e-12)
	a, b = pair(13, 7, 0, 20)
	i = OddsRatioInterval(a, b, 0.95)
	near(t, "13/20 against 0/20", 1/i.Low, 1/6.1444944, 1.2e-4)
	if !math.IsInf(i.High, 1) || !math.IsInf(OddsRatio(a, b), 1) {
		t.Errorf("an empty corner gives %v", i)
	}
}

// Perondi 2004: 7 of 34 against 1 of 34. Boschloo and Barnard are from scipy,
// which takes the columns of a table as groups: 7 of 8 against 27 of 60.
func TestUnconditional(t *testing.T) {
	a, b := pair(7, 27, 1, 33)
	pearson, yates := ChiSquared(a, b)
	near(t, "Pearson", pearson, 5.1, 1e-6)
	near(t, "Pearson p", ChiSquaredTail(pearson, 1), 0.02392584, 1e-6)
	near(t, "Yates", yates, 3.541667, 1e-6)
	near(t, "Yates p", ChiSquaredTail(yates, 1), 0.05984530, 1e-6)
	a, b = pair(7, 1, 27, 33)
	near(t, "Boschloo", Boschloo(a, b), 0.025494, 1e-3)
	near(t, "Barnard", Barnard(a, b), 0.050489, 1e-3)
}

func groups(hatched, eggs []int) []Count {
	var out []Count
	for i := range hatched {
		out = append(out, Count{hatched[i], eggs[i]})
	}
	return out
}

func TestTrend(t *testing.T) {
	// R's help of prop.trend.test; Fleiss 1981.
	g := groups([]int{83, 90, 129, 70}, []int{86, 93, 136, 82})
	tr, err := CochranArmitage(g, []float64{1, 2, 3, 4})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "smokers", tr.ChiSq, 8.22492229, 1e-6)
	near(t, "smokers z", tr.Z, -2.86791253, 1e-6)
	near(t, "smokers p", tr.P, 0.00413190, 1e-6)
	chi, df, p := Homogeneity(g)
	near(t, "homogeneity", chi, 12.6004113, 1e-6)
	near(t, "homogeneity p", p, 0.00558548, 1e-6)
	if df != 3 {
		t.Errorf("%d degrees of freedom", df)
	}
	tr, _ = CochranArmitage(g, []float64{0, 0, 0, 1})
	near(t, "last against the others", tr.ChiSq, 12.17314622, 1e-6)
	// A statistics-package manual's Cochran-Armitage example.
	tr, _ = CochranArmitage(groups([]int{6, 7, 9, 14, 23}, []int{32, 33, 32, 32, 32}), []float64{0, 1, 2, 3, 4})
	near(t, "doses", tr.ChiSq, 22.96146825, 1e-6)
	near(t, "doses z", tr.Z, 4.79181258, 1e-6)
	near(t, "doses p", tr.P, 1.652813e-6, 1e-11)
	tr, _ = CochranArmitage(groups([]int{0, 3, 7, 10}, []int{10, 10, 10, 10}), []float64{0, 1, 2, 3})
	near(t, "steps", tr.ChiSq, 23.12, 1e-6)
	near(t, "steps z", tr.Z, 4.80832611, 1e-6)
}

// Graubard and Korn 1988, Biometrics: malformations and alcohol, as shown on a
// statistics vendor's page, with two sets of scores; Agresti prints 6.57 for the
// third.
func TestExactTrend(t *testing.T) {
	g := groups([]int{48, 38, 5, 1, 1}, []int{17114, 14502, 793, 127, 38})
	tests := []struct {
		scores        []float64
		asym          float64
		one, two, tol float64
	}{
		{[]float64{0, 0.5, 1.5, 4, 8}, 0.007801, 0.015769, 0.015882, 1e-4},
		{[]float64{1, 2, 3, 4, 5}, 0.1764, 0.1046, 0.1790, 5e-4},
	}
	for _, tt := range tests {
		tr, err := CochranArmitage(g, tt.scores)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "asymptotic", 2*NormalTail(math.Abs(tr.ZExact)), tt.asym, tt.tol)
		one, two, err := ExactTrend(g, tt.scores)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "exact one-sided", one, tt.one, tt.tol)
		near(t, "exact two-sided", two, tt.two, tt.tol)
	}
	tr, _ := CochranArmitage(g, []float64{0, 0.5, 1.5, 4, 7})
	near(t, "Agresti", tr.ChiSq, 6.57013394, 1e-6)
	near(t, "Agresti p", tr.P, 0.01037041, 1e-6)
	near(t, "N-1 form", tr.ZExact, 2.56318791, 1e-6)
	if _, err := CochranArmitage(g, []float64{1}); err == nil {
		t.Error("one score for five groups passes")
	}
	if _, err := CochranArmitage(groups([]int{0, 0}, []int{5, 5}), []float64{0, 1}); err == nil {
		t.Error("a trend where nothing hatched")
	}
}

// Hollander and Wolfe 1973, p. 116 (data in R's help).
func TestKruskalWallis(t *testing.T) {
	h, df, p := KruskalWallis([][]float64{{2.9, 3.0, 2.5, 2.6, 3.2}, {3.8, 2.7, 4.0, 2.4}, {2.8, 3.4, 3.7, 2.2, 2.0}})
	near(t, "H", h, 0.77142857, 1e-7)
	near(t, "p", p, 0.67996477, 1e-7)
	if df != 2 {
		t.Errorf("%d degrees of freedom", df)
	}
}

// R's p.adjust.
func TestAdjust(t *testing.T) {
	p := []float64{.001, .008, .039, .041, .042, .06, .074, .205, .212, .216}
	nearAll(t, "Holm", Holm.Adjust(p), []float64{.01, .072, .312, .312, .312, .312, .312, .615, .615, .615}, 1e-8)
	nearAll(t, "Benjamini-Hochberg", BenjaminiHochberg.Adjust(p), []float64{.01, .04, .084, .084, .084, .1, .10571429, .216, .216, .216}, 1e-7)
	got := Holm.Adjust([]float64{0.04, math.NaN(), 0.01})
	nearAll(t, "with a gap", []float64{got[0], got[2]}, []float64{0.04, 0.02}, 1e-12)
}

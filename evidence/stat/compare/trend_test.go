package compare

import (
	"math"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

func groups(hatched, eggs []int) []stat.Count {
	var out []stat.Count
	for i := range hatched {
		out = append(out, stat.Count{Hatched: hatched[i], Eggs: eggs[i]})
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
	stattest.Near(t, "smokers", tr.ChiSq, 8.22492229, 1e-6)
	stattest.Near(t, "smokers z", tr.Z, -2.86791253, 1e-6)
	stattest.Near(t, "smokers p", tr.P, 0.00413190, 1e-6)
	chi, df, p := Homogeneity(g)
	stattest.Near(t, "homogeneity", chi, 12.6004113, 1e-6)
	stattest.Near(t, "homogeneity p", p, 0.00558548, 1e-6)
	if df != 3 {
		t.Errorf("%d degrees of freedom", df)
	}
	tr, _ = CochranArmitage(g, []float64{0, 0, 0, 1})
	stattest.Near(t, "last against the others", tr.ChiSq, 12.17314622, 1e-6)
	// A statistics-package manual's Cochran-Armitage example.
	tr, _ = CochranArmitage(groups([]int{6, 7, 9, 14, 23}, []int{32, 33, 32, 32, 32}), []float64{0, 1, 2, 3, 4})
	stattest.Near(t, "doses", tr.ChiSq, 22.96146825, 1e-6)
	stattest.Near(t, "doses z", tr.Z, 4.79181258, 1e-6)
	stattest.Near(t, "doses p", tr.P, 1.652813e-6, 1e-11)
	tr, _ = CochranArmitage(groups([]int{0, 3, 7, 10}, []int{10, 10, 10, 10}), []float64{0, 1, 2, 3})
	stattest.Near(t, "steps", tr.ChiSq, 23.12, 1e-6)
	stattest.Near(t, "steps z", tr.Z, 4.80832611, 1e-6)
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
		stattest.Near(t, "asymptotic", 2*stat.NormalTail(math.Abs(tr.ZExact)), tt.asym, tt.tol)
		one, two, err := ExactTrend(g, tt.scores)
		if err != nil {
			t.Fatal(err)
		}
		stattest.Near(t, "exact one-sided", one, tt.one, tt.tol)
		stattest.Near(t, "exact two-sided", two, tt.two, tt.tol)
	}
	tr, _ := CochranArmitage(g, []float64{0, 0.5, 1.5, 4, 7})
	stattest.Near(t, "Agresti", tr.ChiSq, 6.57013394, 1e-6)
	stattest.Near(t, "Agresti p", tr.P, 0.01037041, 1e-6)
	stattest.Near(t, "N-1 form", tr.ZExact, 2.56318791, 1e-6)
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
	stattest.Near(t, "H", h, 0.77142857, 1e-7)
	stattest.Near(t, "p", p, 0.67996477, 1e-7)
	if df != 2 {
		t.Errorf("%d degrees of freedom", df)
	}
}

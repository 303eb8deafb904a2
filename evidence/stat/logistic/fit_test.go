package logistic

import (
	"strconv"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

// crowder is the table of [stattest.Plates]: two seeds (0, 1), two extracts (0, 1).
func crowder() Table {
	t := Table{Names: []string{"x1", "x2"}, Columns: make([][]string, 2), Counts: stattest.Plates()}
	for i, group := range stattest.PlateGroups() {
		for range group {
			t.Columns[0], t.Columns[1] = append(t.Columns[0], strconv.Itoa(i/2)), append(t.Columns[1], strconv.Itoa(i%2))
		}
	}
	return t
}

func model(t *testing.T, table Table, terms ...string) *Model {
	t.Helper()
	m, err := NewModel(table, terms)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func fitted(t *testing.T, fit func(*Model) (*Fit, error), m *Model) *Fit {
	t.Helper()
	f, err := fit(m)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Estimates, deviances and tests from R's glm and from statsmodels.
func TestCrowderBinomial(t *testing.T) {
	m := model(t, crowder(), "x1", "x2", "x1:x2")
	f := fitted(t, FitBinomial, m)
	stattest.NearAll(t, "estimates", f.Estimate, []float64{-0.55817174, 0.14592695, 1.31818187, -0.77810370}, 1e-6)
	stattest.NearAll(t, "errors", f.SE, []float64{0.12602126, 0.22316593, 0.17746768, 0.30643320}, 1e-6)
	stattest.NearAll(t, "fit", []float64{f.Deviance, f.Pearson, f.NullDeviance, f.LogLik, f.AIC()},
		[]float64{33.277786, 31.651145, 98.719457, -54.937020, 117.874041}, 1e-5)
	if f.DF != 17 {
		t.Errorf("%d degrees of freedom", f.DF)
	}
	lr, err := f.Test(m, m.Groups[2].Columns)
	if err != nil {
		t.Fatal(err)
	}
	stattest.Near(t, "interaction", lr.Statistic, 6.408104, 1e-5)
	stattest.Near(t, "interaction p", lr.P, 0.011360, 1e-5)

	a := fitted(t, FitBinomial, model(t, crowder(), "x1", "x2"))
	stattest.NearAll(t, "additive", a.Estimate, []float64{-0.43003217, -0.27045105, 1.06474979}, 1e-6)
	stattest.NearAll(t, "additive errors", a.SE, []float64{0.11373824, 0.15470562, 0.14421417}, 1e-6)
	stattest.Near(t, "additive deviance", a.Deviance, 39.685890, 1e-5)
	seed := fitted(t, FitBinomial, model(t, crowder(), "x1"))
	stattest.NearAll(t, "sequential deviances", []float64{f.NullDeviance - seed.Deviance, seed.Deviance - a.Deviance, a.Deviance - f.Deviance},
		[]float64{2.544214, 56.489353, 6.408104}, 1e-5)
}

func TestCrowderQuasi(t *testing.T) {
	m := model(t, crowder(), "x1", "x2", "x1:x2")
	f := fitted(t, FitQuasi, m)
	stattest.Near(t, "dispersion", f.Dispersion, 1.86183206, 1e-6)
	stattest.NearAll(t, "errors", f.SE, []float64{0.17195470, 0.30450761, 0.24215282, 0.41812493}, 1e-6)
	stattest.NearAll(t, "t", f.Statistic, []float64{-3.246039, 0.479223, 5.443595, -1.860936}, 1e-6)
	stattest.NearAll(t, "p", f.P, []float64{0.0047523, 0.6378868, 4.3793e-5, 0.0801390}, 1e-6)
	test, err := f.Test(m, m.Groups[2].Columns)
	if err != nil {
		t.Fatal(err)
	}
	stattest.Near(t, "F", test.Statistic, 3.441830, 1e-5)
	stattest.Near(t, "F p", test.P, 0.080991, 1e-5)
}

func cells(names []string, counts []stat.Count, columns ...[]string) Table {
	return Table{Names: names, Columns: columns, Counts: counts}
}

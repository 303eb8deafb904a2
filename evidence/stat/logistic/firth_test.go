package logistic

import (
	"errors"
	"strconv"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

// endometrial holds 79 patients: neovasculation (NV), pulsatility index (PI),
// endometrium height (EH) and histology grade (Heinze and Schemper 2002, Statistics
// in Medicine 21:2409-2419).
func endometrial(t *testing.T) Table {
	t.Helper()
	out := Table{Names: []string{"NV", "PI", "EH"}, Columns: make([][]string, 3)}
	for _, r := range stattest.ReadTable(t, "endometrial.csv") {
		for k := range 3 {
			out.Columns[k] = append(out.Columns[k], r[k])
		}
		y, err := strconv.Atoi(r[3])
		if err != nil {
			t.Fatal(err)
		}
		out.Counts = append(out.Counts, stat.Count{Hatched: y, Eggs: 1})
	}
	return out
}

// brglm2 (AS_mean), brglm and an independent Newton solver agree on all rows.
// Ordinary maximum likelihood diverges on each.
func TestFirth(t *testing.T) {
	cold, low := []string{"0", "1", "0", "1"}, []string{"0", "0", "1", "1"}
	tests := []struct {
		name    string
		table   Table
		terms   []string
		est, se []float64
	}{
		{"0/20 v 13/20", cells([]string{"g"}, stattest.Counts(0, 20, 13, 20), []string{"0", "1"}), []string{"g"},
			[]float64{-3.71357207, 4.30135873}, []float64{1.46670362, 1.53915473}},
		{"0/20 v 20/20", cells([]string{"g"}, stattest.Counts(0, 20, 20, 20), []string{"0", "1"}), []string{"g"},
			[]float64{-3.71357207, 7.42714413}, []float64{1.46670362, 2.07423215}},
		{"one cell of four", cells([]string{"cold", "low"}, stattest.Counts(0, 25, 0, 25, 0, 25, 18, 25), cold, low), []string{"cold", "low"},
			[]float64{-8.76288326, 4.83245933, 4.83245933}, []float64{2.08691837, 1.51399694, 1.51399694}},
		{"none to all", cells([]string{"cold", "low"}, stattest.Counts(0, 25, 7, 25, 2, 25, 25, 25), cold, low), []string{"cold", "low"},
			[]float64{-7.10067378, 6.19894923, 4.86142071}, []float64{1.63611066, 1.58202182, 1.50455465}},
		{"a step", cells([]string{"x"}, stattest.Counts(0, 10, 0, 10, 10, 10, 10, 10), []string{"1", "2", "3", "4"}), []string{"trend(x)"},
			[]float64{-15.12032487, 6.04812995}, []float64{5.36298358, 2.10269750}},
		{"endometrial", endometrial(t), []string{"NV", "trend(PI)", "trend(EH)"},
			[]float64{3.77455971, 2.92927335, -0.03475176, -2.60416393}, []float64{1.48869166, 1.55076373, 0.03957815, 0.77601764}},
	}
	for _, tt := range tests {
		m := model(t, tt.table, tt.terms...)
		f := fitted(t, FitFirth, m)
		stattest.NearAll(t, tt.name, f.Estimate, tt.est, 1e-5)
		stattest.NearAll(t, tt.name+" errors", f.SE, tt.se, 1e-4)
		if _, err := FitBinomial(m); !errors.Is(err, ErrSeparated) {
			t.Errorf("%s: ordinary fit says %v, want separation", tt.name, err)
		}
	}
}

func TestFirthTests(t *testing.T) {
	m := model(t, cells([]string{"g"}, stattest.Counts(0, 20, 13, 20), []string{"0", "1"}), "g")
	f := fitted(t, FitFirth, m)
	stattest.NearAll(t, "fitted, 0.5/21 and 13.5/21", f.Fitted, []float64{0.02380952, 0.64285714}, 1e-8)
	lr, err := f.TestFirth(m, []int{1})
	if err != nil {
		t.Fatal(err)
	}
	stattest.Near(t, "penalised log-likelihood", m.PenalisedLogLik(f.Estimate), -13.05399013, 1e-5*13)
	stattest.Near(t, "penalised ratio", lr.Statistic, 21.36774533, 1e-5*21)
	stattest.Near(t, "penalised p", lr.P, 3.790955e-6, 1e-5*3.8e-6)
	// The ordinary ratio is finite under separation.
	null := fitted(t, FitBinomial, m.without([]int{1}))
	stattest.Near(t, "G2", null.Deviance, 24.54861671, 1e-6*24)
	stattest.Near(t, "G2 p", stat.ChiSquaredTail(null.Deviance, 1), 7.245834e-7, 1e-6*7e-7)
}

// Of eight dishes four are barren: the dispersion is that of the other four, twice
// Pearson's over all (closed form, up to the half egg by which a barren dish's
// fraction is off 0). Where all are all or nothing none is seen.
func TestFirthQuasiDispersion(t *testing.T) {
	barren := []string{"0", "0", "0", "0", "1", "1", "1", "1"}
	m := model(t, cells([]string{"g"}, stattest.Counts(0, 100, 0, 100, 0, 100, 0, 100, 30, 100, 50, 100, 60, 100, 40, 100), barren), "g")
	f := fitted(t, FitFirthQuasi, m)
	stattest.Near(t, "dispersion", f.Dispersion, 2*f.Pearson/float64(f.DF), 0.01*f.Dispersion)
	stattest.Near(t, "Pearson", f.Pearson, 500/24.75, 0.03*500/24.75) // (15²+5²+15²+5²)/(100·0.45·0.55)
	m = model(t, cells([]string{"g"}, stattest.Counts(10, 10, 10, 10, 0, 10), []string{"0", "0", "1"}), "g")
	stattest.Near(t, "all or nothing", fitted(t, FitFirthQuasi, m).Dispersion, 1, 0)
}

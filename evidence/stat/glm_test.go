package stat

import (
	"encoding/csv"
	"errors"
	"os"
	"strconv"
	"testing"
)

// crowder is Table 3 of Crowder 1978, Applied Statistics 27:34-37: 21 plates,
// two seeds (0, 1) and two extracts (0, 1).
func crowder() Table {
	t := Table{Names: []string{"x1", "x2"}, Columns: make([][]string, 2)}
	add := func(x1, x2 string, counts ...Count) {
		for _, c := range counts {
			t.Columns[0], t.Columns[1] = append(t.Columns[0], x1), append(t.Columns[1], x2)
			t.Counts = append(t.Counts, c)
		}
	}
	add("0", "0", Count{10, 39}, Count{23, 62}, Count{23, 81}, Count{26, 51}, Count{17, 39})
	add("0", "1", Count{5, 6}, Count{53, 74}, Count{55, 72}, Count{32, 51}, Count{46, 79}, Count{10, 13})
	add("1", "0", Count{8, 16}, Count{10, 30}, Count{8, 28}, Count{23, 45}, Count{0, 4})
	add("1", "1", Count{3, 12}, Count{22, 41}, Count{15, 30}, Count{32, 51}, Count{3, 7})
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
	nearAll(t, "estimates", f.Estimate, []float64{-0.55817174, 0.14592695, 1.31818187, -0.77810370}, 1e-6)
	nearAll(t, "errors", f.SE, []float64{0.12602126, 0.22316593, 0.17746768, 0.30643320}, 1e-6)
	nearAll(t, "fit", []float64{f.Deviance, f.Pearson, f.NullDeviance, f.LogLik, f.AIC()},
		[]float64{33.277786, 31.651145, 98.719457, -54.937020, 117.874041}, 1e-5)
	if f.DF != 17 {
		t.Errorf("%d degrees of freedom", f.DF)
	}
	lr, err := f.Test(m, m.Groups[2].Columns)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "interaction", lr.Statistic, 6.408104, 1e-5)
	near(t, "interaction p", lr.P, 0.011360, 1e-5)

	a := fitted(t, FitBinomial, model(t, crowder(), "x1", "x2"))
	nearAll(t, "additive", a.Estimate, []float64{-0.43003217, -0.27045105, 1.06474979}, 1e-6)
	nearAll(t, "additive errors", a.SE, []float64{0.11373824, 0.15470562, 0.14421417}, 1e-6)
	near(t, "additive deviance", a.Deviance, 39.685890, 1e-5)
	seed := fitted(t, FitBinomial, model(t, crowder(), "x1"))
	nearAll(t, "sequential deviances", []float64{f.NullDeviance - seed.Deviance, seed.Deviance - a.Deviance, a.Deviance - f.Deviance},
		[]float64{2.544214, 56.489353, 6.408104}, 1e-5)
}

func TestCrowderQuasi(t *testing.T) {
	m := model(t, crowder(), "x1", "x2", "x1:x2")
	f := fitted(t, FitQuasi, m)
	near(t, "dispersion", f.Dispersion, 1.86183206, 1e-6)
	nearAll(t, "errors", f.SE, []float64{0.17195470, 0.30450761, 0.24215282, 0.41812493}, 1e-6)
	nearAll(t, "t", f.Statistic, []float64{-3.246039, 0.479223, 5.443595, -1.860936}, 1e-6)
	nearAll(t, "p", f.P, []float64{0.0047523, 0.6378868, 4.3793e-5, 0.0801390}, 1e-6)
	test, err := f.Test(m, m.Groups[2].Columns)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "F", test.Statistic, 3.441830, 1e-5)
	near(t, "F p", test.P, 0.080991, 1e-5)
}

func TestTarone(t *testing.T) {
	c := crowder().Counts
	for i, want := range []float64{1.459489, 1.142551, 0.721916, 0.061025} {
		cut := []int{0, 5, 11, 16, 21}
		near(t, "group", Tarone(c[cut[i]:cut[i+1]]), want, 1e-5)
	}
	near(t, "all plates", Tarone(c), 14.486527, 1e-5)
}

func cells(names []string, counts []Count, columns ...[]string) Table {
	return Table{Names: names, Columns: columns, Counts: counts}
}

func endometrial(t *testing.T) Table {
	t.Helper()
	f, err := os.Open("testdata/endometrial.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := Table{Names: []string{"NV", "PI", "EH"}, Columns: make([][]string, 3)}
	for _, r := range rows[1:] {
		for k := range 3 {
			out.Columns[k] = append(out.Columns[k], r[k])
		}
		y, err := strconv.Atoi(r[3])
		if err != nil {
			t.Fatal(err)
		}
		out.Counts = append(out.Counts, Count{y, 1})
	}
	return out
}

// brglm2 (AS_mean), brglm and an independent Newton solver agree on all rows;
// the endometrial data are those of Heinze and Schemper 2002, Statistics in
// Medicine 21:2409-2419. Ordinary maximum likelihood diverges on each.
func TestFirth(t *testing.T) {
	cold, low := []string{"0", "1", "0", "1"}, []string{"0", "0", "1", "1"}
	tests := []struct {
		name    string
		table   Table
		terms   []string
		est, se []float64
	}{
		{"0/20 v 13/20", cells([]string{"g"}, []Count{{0, 20}, {13, 20}}, []string{"0", "1"}), []string{"g"},
			[]float64{-3.71357207, 4.30135873}, []float64{1.46670362, 1.53915473}},
		{"0/20 v 20/20", cells([]string{"g"}, []Count{{0, 20}, {20, 20}}, []string{"0", "1"}), []string{"g"},
			[]float64{-3.71357207, 7.42714413}, []float64{1.46670362, 2.07423215}},
		{"one cell of four", cells([]string{"cold", "low"}, []Count{{0, 25}, {0, 25}, {0, 25}, {18, 25}}, cold, low), []string{"cold", "low"},
			[]float64{-8.76288326, 4.83245933, 4.83245933}, []float64{2.08691837, 1.51399694, 1.51399694}},
		{"none to all", cells([]string{"cold", "low"}, []Count{{0, 25}, {7, 25}, {2, 25}, {25, 25}}, cold, low), []string{"cold", "low"},
			[]float64{-7.10067378, 6.19894923, 4.86142071}, []float64{1.63611066, 1.58202182, 1.50455465}},
		{"a step", cells([]string{"x"}, []Count{{0, 10}, {0, 10}, {10, 10}, {10, 10}}, []string{"1", "2", "3", "4"}), []string{"trend(x)"},
			[]float64{-15.12032487, 6.04812995}, []float64{5.36298358, 2.10269750}},
		{"endometrial", endometrial(t), []string{"NV", "trend(PI)", "trend(EH)"},
			[]float64{3.77455971, 2.92927335, -0.03475176, -2.60416393}, []float64{1.48869166, 1.55076373, 0.03957815, 0.77601764}},
	}
	for _, tt := range tests {
		m := model(t, tt.table, tt.terms...)
		f := fitted(t, FitFirth, m)
		nearAll(t, tt.name, f.Estimate, tt.est, 1e-5)
		nearAll(t, tt.name+" errors", f.SE, tt.se, 1e-4)
		if _, err := FitBinomial(m); !errors.Is(err, ErrSeparated) {
			t.Errorf("%s: ordinary fit says %v, want separation", tt.name, err)
		}
	}
}

func TestFirthTests(t *testing.T) {
	m := model(t, cells([]string{"g"}, []Count{{0, 20}, {13, 20}}, []string{"0", "1"}), "g")
	f := fitted(t, FitFirth, m)
	nearAll(t, "fitted, 0.5/21 and 13.5/21", f.Fitted, []float64{0.02380952, 0.64285714}, 1e-8)
	lr, err := f.TestFirth(m, []int{1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "penalised log-likelihood", m.PenalisedLogLik(f.Estimate), -13.05399013, 1e-5*13)
	near(t, "penalised ratio", lr.Statistic, 21.36774533, 1e-5*21)
	near(t, "penalised p", lr.P, 3.790955e-6, 1e-5*3.8e-6)
	// The ordinary ratio is finite under separation.
	null := fitted(t, FitBinomial, m.without([]int{1}))
	near(t, "G2", null.Deviance, 24.54861671, 1e-6*24)
	near(t, "G2 p", ChiSquaredTail(null.Deviance, 1), 7.245834e-7, 1e-6*7e-7)
}

func TestModelRefusals(t *testing.T) {
	good := crowder()
	for _, terms := range [][]string{{"x3"}, {"x1:x9"}, {"trend(x9)"}} {
		if _, err := NewModel(good, terms); err == nil {
			t.Errorf("terms %q pass", terms)
		}
	}
	same := cells([]string{"a"}, []Count{{1, 2}, {1, 2}}, []string{"x", "x"})
	if _, err := NewModel(same, []string{"a"}); err == nil {
		t.Error("a factor with one level passes")
	}
	if _, err := NewModel(cells([]string{"a"}, []Count{{3, 2}, {1, 2}}, []string{"x", "y"}), []string{"a"}); err == nil {
		t.Error("3 of 2 eggs pass")
	}
	m := model(t, cells([]string{"a", "b"}, []Count{{1, 2}, {1, 2}}, []string{"10", "9"}, []string{"x", "y"}), "a", "b")
	if len(m.Terms) != 2 || m.Terms[1] != "a=10" || len(m.Aliased) != 1 {
		t.Errorf("terms %q, aliased %q", m.Terms, m.Aliased)
	}
}

package linear

import (
	"math"
	"math/rand/v2"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

// cellsOf gives each of n treatments of m dishes a mean of its own.
func cellsOf(t *testing.T, n, m int) *ErrorSpace {
	t.Helper()
	var columns [][]float64
	for c := range n {
		column := make([]float64, n*m)
		for k := range m {
			column[c*m+k] = 1
		}
		columns = append(columns, column)
	}
	s, err := NewErrorSpace(columns)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// between weights the means of two treatments of m dishes, of n.
func between(n, m, from, to int) []float64 {
	w := make([]float64, n*m)
	for k := range m {
		w[from*m+k], w[to*m+k] = -1/float64(m), 1/float64(m)
	}
	return w
}

// Of two groups it is Welch's statistic; with groups of one size the degrees of
// freedom are those of the t test of the two (closed forms).
func TestContrastErrorOfTwoGroups(t *testing.T) {
	e, ok := cellsOf(t, 2, 4).ContrastError(between(2, 4, 0, 1))
	if !ok {
		t.Fatal("no error")
	}
	y := []float64{1, 2, 4, 5, 10, 10, 14, 18}
	// Variances 10/3 and 44/3, over 4 each.
	stattest.Near(t, "variance", e.Variance(y), (10.0/3+44.0/3)/4, 1e-12)
	stattest.Near(t, "degrees of freedom", e.DF(), 6, 1e-9)
	// A third treatment, whatever its spread, changes nothing.
	three, _ := cellsOf(t, 3, 4).ContrastError(between(3, 4, 0, 1))
	stattest.Near(t, "beside a third", three.Variance(append(y, 0, 0, 0, 0)), e.Variance(y), 1e-12)
	stattest.Near(t, "degrees of freedom beside a third", three.DF(), 6, 1e-9)
	if _, ok := cellsOf(t, 2, 1).ContrastError(between(2, 1, 0, 1)); ok {
		t.Error("single dishes show a variance")
	}
	if _, ok := cellsOf(t, 2, 4).ContrastError(make([]float64, 8)); ok {
		t.Error("no contrast has an error")
	}
}

// Where treatments beside the two do not vary at all, the pooled test calls equal
// means different far too often; this one keeps its size.
func TestContrastErrorKeepsTheSize(t *testing.T) {
	const n, m, trials = 5, 4, 4000
	s, w := cellsOf(t, n, m), between(n, m, 0, 1)
	e, _ := s.ContrastError(w)
	r := rand.New(rand.NewPCG(3, 8))
	own, pooled, y := 0, 0, make([]float64, n*m)
	for range trials {
		for k := range 2 * m {
			y[k] = r.NormFloat64()
		}
		if math.Abs(Dot(w, y))/math.Sqrt(e.Variance(y)) > stat.StudentQuantile(0.975, e.DF()) {
			own++
		}
		if math.Abs(s.T(w, y)) > stat.StudentQuantile(0.975, float64(s.DF())) {
			pooled++
		}
	}
	if size := float64(own) / trials; size < 0.04 || size > 0.06 {
		t.Errorf("size %v", size)
	}
	if size := float64(pooled) / trials; size < 0.15 {
		t.Errorf("size of the pooled test %v: the check has no teeth", size)
	}
}

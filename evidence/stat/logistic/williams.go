package logistic

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
)

// FitWilliams fits the logistic model with weights that allow for dishes that
// differ, the correlation found by moments (Williams 1982, Applied Statistics
// 31:144, procedure II). Rho is that correlation.
func FitWilliams(m *Model) (*Fit, error) {
	phi := 0.0
	w := make([]float64, len(m.Counts))
	for range 500 {
		for i, c := range m.Counts {
			w[i] = 1 / (1 + phi*float64(c.Eggs-1))
		}
		beta, inverse, err := reweight(m, w)
		if err != nil {
			return nil, err
		}
		next := williamsMoment(m, beta, inverse, w)
		if math.Abs(next-phi) < 1e-13 {
			f := m.report(beta, inverse)
			f.Rho = phi
			return f, nil
		}
		phi = next
	}
	return nil, ErrNoConvergence
}

func williamsMoment(m *Model, beta []float64, inverse *mat.SymDense, w []float64) float64 {
	var x2, left, spread float64
	for i, c := range m.Counts {
		p := stat.Expit(linear.Dot(m.X[i], beta))
		row := mat.NewVecDense(len(beta), m.X[i])
		hat := float64(c.Eggs) * w[i] * p * (1 - p) * mat.Inner(row, inverse, row)
		x2 += w[i] * pearsonOf(c, p)
		left += w[i] * (1 - hat)
		spread += w[i] * float64(c.Eggs-1) * (1 - hat)
	}
	return math.Max(0, (x2-left)/spread)
}

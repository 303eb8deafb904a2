package logistic

import (
	"gonum.org/v1/gonum/mat"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
)

// FitMedian fits the logistic model so that each estimate is as often above as
// below the truth (median bias reduction: Kenne Pagui, Salvan and Sartori 2017,
// Biometrika 104:923; in the form of Kosmidis, Kenne Pagui and Sartori 2020,
// Statistics and Computing 30:43). It is finite where a treatment is all or
// nothing, and shrinks less than [FitFirth]. Eggs are taken as independent.
func FitMedian(m *Model) (*Fit, error) {
	beta, inverse, err := m.reduceBias(m.medianScore, nil)
	if err != nil {
		return nil, err
	}
	return m.report(beta, inverse), nil
}

// medianScore is Firth's score with information·u added, where u moves each
// coefficient from its mean-unbiased to its median-unbiased place.
func (m *Model) medianScore(beta []float64, inverse *mat.SymDense) []float64 {
	k := len(beta)
	out := m.firthScore(beta, inverse)
	u := mat.NewVecDense(k, nil)
	for j := range k {
		own := inverse.At(j, j)
		var sum float64
		for i, row := range m.X {
			p := stat.Expit(linear.Dot(row, beta))
			w := float64(m.Counts[i].Eggs) * p * (1 - p)
			var along float64
			for a, x := range row {
				along += inverse.At(j, a) * x
			}
			sum -= along * along * along / own * w * (1 - 2*p) / 3
		}
		u.SetVec(j, sum)
	}
	var shift mat.VecDense
	shift.MulVec(m.information(beta), u)
	for j := range out {
		out[j] += shift.AtVec(j)
	}
	return out
}

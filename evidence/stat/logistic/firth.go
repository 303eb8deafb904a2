package logistic

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
)

// FitFirth fits the logistic model with Firth's bias reduction, which for the
// logit maximises the likelihood times the root of the information's
// determinant (Firth 1993, Biometrika 80:27). Its estimates are finite even when
// a treatment is all or nothing. Eggs are taken as independent.
func FitFirth(m *Model) (*Fit, error) {
	beta, inverse, err := m.reduceBias(m.firthScore, nil)
	if err != nil {
		return nil, err
	}
	return m.report(beta, inverse), nil
}

// FitFirthQuasi is FitFirth with errors and tests scaled by the dispersion of the
// dishes, never below 1: dishes that are all or nothing show no spread, which is no
// sign that there is none. Pearson's dispersion would take their agreement for that
// of all; the share of it that they cannot show is taken out (Fletcher 2012,
// Biometrika 99:230-237, from memory).
func FitFirthQuasi(m *Model) (*Fit, error) {
	f, err := FitFirth(m)
	if err != nil {
		return nil, err
	}
	f.scale(math.Max(1, f.Pearson/float64(f.DF)/m.shown(f.Fitted)))
	return f, nil
}

// shown is 1 and the mean of V'(µ)(y-µ)/V(µ) over the dishes, V being the binomial
// variance at µ = n·p: near 1 where counts scatter about their fractions, and smaller
// by the share of dishes of which none or all hatched because hardly any or nearly
// all do. Where fewer than two dishes' worth scatter there is nothing to tell a
// dispersion by, and it is 1.
func (m *Model) shown(fitted []float64) float64 {
	sum := 0.0
	for i, c := range m.Counts {
		n, p := float64(c.Eggs), fitted[i]
		if v := n * p * (1 - p); v > 0 {
			sum += (1 - 2*p) * (float64(c.Hatched) - n*p) / v
		}
	}
	dishes := float64(len(m.Counts))
	if dishes+sum < 2 {
		return 1
	}
	return 1 + sum/dishes
}

// reduceBias solves modified score equations by Fisher scoring with short
// steps. Columns in held stay at 0 while the penalty keeps the whole matrix.
func (m *Model) reduceBias(scoreAt func(beta []float64, inverse *mat.SymDense) []float64, held []int) (beta []float64, inverse *mat.SymDense, err error) {
	k := len(m.Terms)
	beta = make([]float64, k)
	free := make([]bool, k)
	for j := range free {
		free[j] = true
	}
	for _, j := range held {
		free[j] = false
	}
	for range 1000 {
		info := m.information(beta)
		var ok bool
		if inverse, ok = linear.Inverse(info); !ok {
			return nil, nil, ErrNoConvergence
		}
		step, ok := freeStep(info, scoreAt(beta, inverse), free)
		if !ok {
			return nil, nil, ErrNoConvergence
		}
		size := maxAbs(step)
		if size > 2 {
			for j := range step {
				step[j] *= 2 / size
			}
		}
		for j := range beta {
			beta[j] += step[j]
		}
		if size < 1e-11*(1+maxAbs(beta)) {
			return beta, inverse, nil
		}
	}
	return nil, nil, ErrNoConvergence
}

// information returns X'WX at beta.
func (m *Model) information(beta []float64) *mat.SymDense {
	k := len(beta)
	out := mat.NewSymDense(k, nil)
	for i, row := range m.X {
		p := stat.Expit(linear.Dot(row, beta))
		w := float64(m.Counts[i].Eggs) * p * (1 - p)
		for a := range k {
			for b := a; b < k; b++ {
				out.SetSym(a, b, out.At(a, b)+w*row[a]*row[b])
			}
		}
	}
	return out
}

func (m *Model) firthScore(beta []float64, inverse *mat.SymDense) []float64 {
	out := make([]float64, len(beta))
	for i, row := range m.X {
		c := m.Counts[i]
		p := stat.Expit(linear.Dot(row, beta))
		w := float64(c.Eggs) * p * (1 - p)
		v := mat.NewVecDense(len(row), row)
		hat := w * mat.Inner(v, inverse, v)
		r := float64(c.Hatched) - float64(c.Eggs)*p + hat*(0.5-p)
		for j := range out {
			out[j] += r * row[j]
		}
	}
	return out
}

// freeStep solves information·step = score over the free columns.
func freeStep(info *mat.SymDense, score []float64, free []bool) ([]float64, bool) {
	var at []int
	for j, f := range free {
		if f {
			at = append(at, j)
		}
	}
	if len(at) == 0 {
		return make([]float64, len(free)), true
	}
	small, rhs := mat.NewSymDense(len(at), nil), mat.NewVecDense(len(at), nil)
	for a, ja := range at {
		rhs.SetVec(a, score[ja])
		for b := a; b < len(at); b++ {
			small.SetSym(a, b, info.At(ja, at[b]))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(small) {
		return nil, false
	}
	var sol mat.VecDense
	if err := chol.SolveVecTo(&sol, rhs); err != nil {
		if c, ok := err.(mat.Condition); !ok || math.IsInf(float64(c), 0) {
			return nil, false
		}
	}
	step := make([]float64, len(free))
	for a, ja := range at {
		step[ja] = sol.AtVec(a)
	}
	return step, true
}

// PenalisedLogLik returns Firth's objective at beta, without the binomial
// coefficients.
func (m *Model) PenalisedLogLik(beta []float64) float64 {
	var l float64
	for i, row := range m.X {
		p := stat.Expit(linear.Dot(row, beta))
		c := m.Counts[i]
		l += xlogy(float64(c.Hatched), p) + xlogy(float64(c.Eggs-c.Hatched), 1-p)
	}
	var chol mat.Cholesky
	if !chol.Factorize(m.information(beta)) {
		return math.Inf(-1)
	}
	return l + 0.5*chol.LogDet()
}

// TestFirth compares a fit by FitFirth with one whose given columns are held at
// 0 under the same penalty (Heinze and Schemper 2002, Statistics in Medicine
// 21:2409).
func (f *Fit) TestFirth(m *Model, columns []int) (stat.TermTest, error) {
	held, _, err := m.reduceBias(m.firthScore, columns)
	if err != nil {
		return stat.TermTest{}, err
	}
	return f.compare(2*(m.PenalisedLogLik(f.Estimate)-m.PenalisedLogLik(held)), len(columns)), nil
}

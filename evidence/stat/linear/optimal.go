package linear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// ContrastWeights returns the weights on the dishes that estimate, by least
// squares, the combination a of the coefficients of the model with these
// columns. It refuses columns that depend on each other.
func ContrastWeights(columns [][]float64, a []float64) ([]float64, error) {
	n, k := len(columns[0]), len(columns)
	if n < k {
		return nil, fmt.Errorf("%d dishes cannot carry %d coefficients", n, k)
	}
	x := mat.NewDense(n, k, nil)
	for j, c := range columns {
		x.SetCol(j, c)
	}
	var qr mat.QR
	qr.Factorize(x)
	var w mat.VecDense
	if err := qr.SolveVecTo(&w, true, mat.NewVecDense(k, a)); err != nil {
		return nil, fmt.Errorf("the treatments do not tell the factors apart: %w", err)
	}
	return w.RawVector().Data, nil
}

// DOptimal chooses size of the candidate rows, each at most once, so that the
// determinant of X'X is as large as exchanges of single rows can make it
// (Fedorov 1972), the best of several random starts. The first kept rows are
// always in. It returns row numbers in rising order, or an error when no choice
// tells all columns apart.
func DOptimal(rows [][]float64, size, kept, starts int, r *rand.Rand) ([]int, error) {
	if len(rows) == 0 || size < len(rows[0]) || size > len(rows) || kept > size {
		return nil, fmt.Errorf("%d of %d treatments cannot tell the factors apart", size, len(rows))
	}
	var best []int
	bestDet := math.Inf(-1)
	for range starts {
		in := randomSubset(len(rows), size, kept, r)
		if det := exchange(rows, in, kept); det > bestDet+1e-9 {
			bestDet, best = det, slices.Clone(in)
		}
	}
	if math.IsInf(bestDet, -1) {
		return nil, fmt.Errorf("no choice of %d treatments tells the factors apart", size)
	}
	slices.Sort(best)
	return best, nil
}

// randomSubset draws size of n rows without repetition, the first kept of them
// fixed.
func randomSubset(n, size, kept int, r *rand.Rand) []int {
	pool := make([]int, n)
	for i := range pool {
		pool[i] = i
	}
	for i := kept; i < size; i++ {
		j := i + int(r.Uint64()%uint64(n-i))
		pool[i], pool[j] = pool[j], pool[i]
	}
	return pool[:size]
}

// exchange swaps one row at a time for the best gain until none gains. A ridge
// far below any true information keeps a poor start invertible.
func exchange(rows [][]float64, in []int, kept int) (logDet float64) {
	const ridge = 1e-7
	k := len(rows[0])
	for range 200 {
		info := mat.NewSymDense(k, nil)
		for j := range k {
			info.SetSym(j, j, ridge)
		}
		for _, i := range in {
			info.SymRankOne(info, 1, mat.NewVecDense(k, rows[i]))
		}
		var chol mat.Cholesky
		if !chol.Factorize(info) {
			return math.Inf(-1)
		}
		logDet = chol.LogDet()
		inverse, ok := Inverse(info)
		if !ok {
			return math.Inf(-1)
		}
		at, by, gain := bestSwap(rows, in, kept, inverse)
		if gain < 1+1e-6 {
			if logDet < float64(k)*math.Log(1e-3) {
				return math.Inf(-1)
			}
			return logDet
		}
		in[at] = by
	}
	return logDet
}

// bestSwap returns the exchange that multiplies the determinant most.
func bestSwap(rows [][]float64, in []int, kept int, inverse *mat.SymDense) (at, by int, gain float64) {
	half := make([][]float64, len(rows)) // inverse times row
	own := make([]float64, len(rows))
	for i, row := range rows {
		var v mat.VecDense
		v.MulVec(inverse, mat.NewVecDense(len(row), row))
		half[i] = v.RawVector().Data
		own[i] = Dot(row, half[i])
	}
	used := make([]bool, len(rows))
	for _, i := range in {
		used[i] = true
	}
	for a := kept; a < len(in); a++ {
		i := in[a]
		for j := range rows {
			if used[j] {
				continue
			}
			cross := Dot(rows[j], half[i])
			if g := (1+own[j])*(1-own[i]) + cross*cross; g > gain {
				at, by, gain = a, j, g
			}
		}
	}
	return at, by, gain
}

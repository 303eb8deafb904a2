package linear

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// WeightedFit solves the least-squares problem with weights w and returns the
// coefficients and the inverse of X'WX. Working on the square roots of the
// weights keeps digits where some weights nearly vanish.
func WeightedFit(x [][]float64, z, w []float64) (beta []float64, inverse *mat.SymDense, err error) {
	n, k := len(x), len(x[0])
	a, b := mat.NewDense(n, k, nil), mat.NewVecDense(n, nil)
	for i := range n {
		s := math.Sqrt(w[i])
		for j := range k {
			a.Set(i, j, s*x[i][j])
		}
		b.SetVec(i, s*z[i])
	}
	var qr mat.QR
	qr.Factorize(a)
	var out mat.VecDense
	if err := qr.SolveVecTo(&out, false, b); err != nil {
		if _, bad := err.(mat.Condition); !bad || math.IsInf(float64(err.(mat.Condition)), 0) {
			return nil, nil, fmt.Errorf("the model's columns depend on each other: %w", err)
		}
	}
	inverse, err = inverseOfCross(&qr, k)
	return out.RawVector().Data, inverse, err
}

// inverseOfCross returns (R'R)⁻¹ of a QR factorisation.
func inverseOfCross(qr *mat.QR, k int) (*mat.SymDense, error) {
	var r mat.Dense
	qr.RTo(&r)
	tri := mat.NewTriDense(k, mat.Upper, nil)
	for i := range k {
		for j := i; j < k; j++ {
			tri.SetTri(i, j, r.At(i, j))
		}
	}
	var inv mat.TriDense
	if err := inv.InverseTri(tri); err != nil {
		if c, ok := err.(mat.Condition); !ok || math.IsInf(float64(c), 0) {
			return nil, fmt.Errorf("the model's columns depend on each other: %w", err)
		}
	}
	out := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			var s float64
			for l := j; l < k; l++ {
				s += inv.At(i, l) * inv.At(j, l)
			}
			out.SetSym(i, j, s)
		}
	}
	return out, nil
}

// Inverse inverts a symmetric positive-definite matrix; ok is false for another.
func Inverse(a *mat.SymDense) (inverse *mat.SymDense, ok bool) {
	var chol mat.Cholesky
	if !chol.Factorize(a) {
		return nil, false
	}
	var inv mat.SymDense
	if err := chol.InverseTo(&inv); err != nil {
		if c, bad := err.(mat.Condition); !bad || math.IsInf(float64(c), 0) {
			return nil, false
		}
	}
	return &inv, true
}

// Dot returns the sum of products of a and b.
func Dot(a, b []float64) float64 {
	var sum float64
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

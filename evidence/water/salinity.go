package water

import (
	"fmt"
	"math"
)

// Practical Salinity Scale 1978 (UNESCO 1983, Fofonoff and Millard, Technical
// Papers in Marine Science 44).
var (
	pssA = []float64{0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081}
	pssB = []float64{0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144}
	pssC = []float64{0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9}
)

const (
	pssK   = 0.0162
	sea15  = 42.914  // mS/cm of sea water of salinity 35 at 15 °C (IPTS-68) and no pressure
	to1968 = 1.00024 // °C of IPTS-68 for one of ITS-90
)

// poly returns the polynomial with rising coefficients at x.
func poly(c []float64, x float64) (sum float64) {
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}

// PracticalSalinity returns the practical salinity of sea water, whole or
// diluted, from its conductivity in mS/cm at t °C (ITS-90) at the surface. Below
// 2 it is the extension of Hill, Dauphinee and Woods 1986, joined to the scale.
// Pool water has other salts than the sea: its figure is a comparison only.
func PracticalSalinity(mScm, t float64) (float64, error) {
	if err := liquid(t); err != nil {
		return 0, err
	}
	if !(mScm >= 0) {
		return 0, fmt.Errorf("a conductivity of %v cannot be", mScm)
	}
	t68 := t * to1968
	s := diluteSalinity(mScm/sea15/poly(pssC, t68), t68)
	if s > 42 {
		return 0, fmt.Errorf("%v mS/cm at %v °C is beyond a salinity of 42, where the scale ends", mScm, t)
	}
	return s, nil
}

// scale is the salinity of the root of the ratio at one temperature.
func scale(root, t68 float64) float64 { return poly(pssA, root) + bend(t68)*poly(pssB, root) }

func bend(t68 float64) float64 { return (t68 - 15) / (1 + pssK*(t68-15)) }

// diluteSalinity returns the salinity of the ratio rt at one temperature, below
// 2 by the extension, scaled so that both agree at 2.
func diluteSalinity(rt, t68 float64) float64 {
	s := scale(math.Sqrt(rt), t68)
	if s >= 2 {
		return s
	}
	return 2 / hill(rootOf(2, t68), t68) * hill(math.Sqrt(rt), t68)
}

func hill(root, t68 float64) float64 {
	x, y := 400*root*root, 100*root*root
	return scale(root, t68) - pssA[0]/(1+1.5*x+x*x) - pssB[0]*bend(t68)/(1+math.Sqrt(y)+y+y*math.Sqrt(y))
}

// rootOf returns the root of the ratio at which the scale reads s, by halving:
// the scale rises throughout.
func rootOf(s, t68 float64) float64 {
	low, high := 0.0, 1.5
	for range 60 {
		if mid := (low + high) / 2; scale(mid, t68) < s {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// Density returns the density of fresh water, kg/m³, at t °C (Tanaka et al. 2001,
// Metrologia 38:301, coefficients from memory). 1 g/L is 1 g/kg only where it is
// 1000.
func Density(t float64) (float64, error) {
	if err := liquid(t); err != nil {
		return 0, err
	}
	d := t - 3.983035
	return 999.974950 * (1 - d*d*(t+301.797)/(522528.9*(t+69.34881))), nil
}

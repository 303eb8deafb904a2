package stat

import "math"

// Logit returns log(p/(1-p)), on which scale models of a fraction work.
func Logit(p float64) float64 { return math.Log(p) - math.Log1p(-p) }

// Expit turns a logit back into a fraction.
func Expit(x float64) float64 {
	if x >= 0 {
		return 1 / (1 + math.Exp(-x))
	}
	e := math.Exp(x)
	return e / (1 + e)
}

// LogChoose returns the log of the number of ways to choose k of n.
func LogChoose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return a - b - c
}

// Bisect finds where the rising function f crosses 0 between low and high, to
// the last digit.
func Bisect(low, high float64, f func(float64) float64) float64 {
	for range 200 {
		mid := low + (high-low)/2
		if mid == low || mid == high {
			break
		}
		if f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low + (high-low)/2
}

package stat

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// NormalQuantile returns the z below which a share p of the standard normal
// distribution lies.
func NormalQuantile(p float64) float64 { return distuv.UnitNormal.Quantile(p) }

// NormalTail returns the share of the standard normal distribution above z.
func NormalTail(z float64) float64 { return 0.5 * math.Erfc(z/math.Sqrt2) }

// StudentQuantile returns the quantile of Student's t with df degrees of
// freedom (df > 0).
func StudentQuantile(p, df float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(p)
}

// StudentTwoSided returns the two-sided p value of a t statistic.
func StudentTwoSided(t, df float64) float64 {
	if math.IsInf(t, 0) {
		return 0
	}
	return 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Survival(math.Abs(t))
}

// ChiSquaredTail returns the share of the chi-squared distribution above x.
func ChiSquaredTail(x, df float64) float64 {
	if x <= 0 {
		return 1
	}
	return distuv.ChiSquared{K: df}.Survival(x)
}

// FTail returns the share of the F distribution above x.
func FTail(x, df1, df2 float64) float64 {
	if x <= 0 {
		return 1
	}
	return distuv.F{D1: df1, D2: df2}.Survival(x)
}

// ChiSquaredQuantile returns the x below which a share p of the chi-squared
// distribution lies.
func ChiSquaredQuantile(p, df float64) float64 { return distuv.ChiSquared{K: df}.Quantile(p) }

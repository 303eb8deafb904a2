// Package pooling says what several sources tell together: findings with their
// sampling variances, pooled as one value or with a spread between sources,
// intervals of both, and the change along a property of the sources.
//
// It refuses fewer than two findings, and findings without a variance.
package pooling

import (
	"fmt"
	"math"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
)

// Finding is one source's estimate with its sampling variance.
type Finding struct{ Estimate, Variance float64 }

// Pooled is what several sources say together.
type Pooled struct {
	Estimate, SE float64
	Tau2         float64 // variance between sources
	Q            float64 // Cochran's statistic of disagreement
	DF           int
	P            float64 // of Q
	I2           float64 // per cent of the spread that is not sampling
	H2           float64
}

// Interval returns the normal confidence interval of the pooled estimate. With few
// sources that differ it is too narrow: at 95 % it holds the truth in 79 of 100 with
// two, 88 with five, 91 with ten (TestCoverageWithFewSources).
func (p Pooled) Interval(level float64) stat.Interval {
	z := stat.NormalQuantile(1 - (1-level)/2)
	return stat.Interval{Low: p.Estimate - z*p.SE, High: p.Estimate + z*p.SE}
}

// Prediction returns the interval in which another source's true value is
// expected, from the normal distribution; with few sources it is too narrow as well.
func (p Pooled) Prediction(level float64) stat.Interval {
	z := stat.NormalQuantile(1 - (1-level)/2)
	half := z * math.Sqrt(p.SE*p.SE+p.Tau2)
	return stat.Interval{Low: p.Estimate - half, High: p.Estimate + half}
}

func checkFindings(f []Finding) error {
	if len(f) < 2 {
		return fmt.Errorf("%d findings cannot be pooled", len(f))
	}
	for i, x := range f {
		if !(x.Variance > 0) || math.IsNaN(x.Estimate) || math.IsInf(x.Estimate, 0) {
			return fmt.Errorf("finding %d has the estimate %v with variance %v", i+1, x.Estimate, x.Variance)
		}
	}
	return nil
}

// weightedMean returns the mean with weights 1/(v+tau2), the sums of the weights
// and of their squares, and the weighted squares about the mean.
func weightedMean(f []Finding, tau2 float64) (mean, sum, sum2, q float64) {
	for _, x := range f {
		w := 1 / (x.Variance + tau2)
		mean += w * x.Estimate
		sum += w
		sum2 += w * w
	}
	mean /= sum
	for _, x := range f {
		q += (x.Estimate - mean) * (x.Estimate - mean) / (x.Variance + tau2)
	}
	return mean, sum, sum2, q
}

// Fixed pools findings that estimate one and the same value.
func Fixed(f []Finding) (Pooled, error) {
	if err := checkFindings(f); err != nil {
		return Pooled{}, err
	}
	return poolAt(f, 0), nil
}

func poolAt(f []Finding, tau2 float64) Pooled {
	_, sum0, sum02, q := weightedMean(f, 0)
	df := float64(len(f) - 1)
	typical := df * sum0 / (sum0*sum0 - sum02)
	mean, sum, _, _ := weightedMean(f, tau2)
	p := Pooled{Estimate: mean, SE: 1 / math.Sqrt(sum), Tau2: tau2, Q: q, DF: len(f) - 1, P: stat.ChiSquaredTail(q, df)}
	p.I2 = 100 * tau2 / (tau2 + typical)
	p.H2 = tau2/typical + 1
	return p
}

// Between estimates the variance between sources.
type Between string

const (
	DerSimonianLaird Between = "dersimonian-laird" // 1986
	PauleMandel      Between = "paule-mandel"      // 1982
	Hedges           Between = "hedges"            // Hedges and Olkin 1985
	REML             Between = "reml"
	ML               Between = "ml"
)

// Pool pools findings whose true values differ between sources.
func (b Between) Pool(f []Finding) (Pooled, error) {
	if err := checkFindings(f); err != nil {
		return Pooled{}, err
	}
	tau2, err := b.tau2(f)
	if err != nil {
		return Pooled{}, err
	}
	return poolAt(f, tau2), nil
}

func (b Between) tau2(f []Finding) (float64, error) {
	df := float64(len(f) - 1)
	switch b {
	case DerSimonianLaird:
		_, sum, sum2, q := weightedMean(f, 0)
		return math.Max(0, (q-df)/(sum-sum2/sum)), nil
	case Hedges:
		var mean, ss, v float64
		for _, x := range f {
			mean += x.Estimate / float64(len(f))
			v += x.Variance / float64(len(f))
		}
		for _, x := range f {
			ss += (x.Estimate - mean) * (x.Estimate - mean)
		}
		return math.Max(0, ss/df-v), nil
	case PauleMandel:
		return tau2Where(f, df), nil
	case REML, ML:
		return likeliestTau2(f, b == REML), nil
	}
	return 0, fmt.Errorf("%q is no way to estimate the spread between sources", b)
}

// tau2Where returns the tau2 at which the weighted squares equal target; 0 when
// they are smaller already.
func tau2Where(f []Finding, target float64) float64 {
	q := func(t float64) float64 { _, _, _, q := weightedMean(f, t); return target - q }
	if q(0) >= 0 {
		return 0
	}
	high := 1.0
	for q(high) < 0 && high < 1e300 {
		high *= 4
	}
	return stat.Bisect(0, high, q)
}

// likeliestTau2 maximises the (restricted) likelihood by golden section on a
// scale that reaches beyond the spread of the estimates.
func likeliestTau2(f []Finding, restricted bool) float64 {
	ll := func(t float64) float64 {
		_, sum, _, q := weightedMean(f, t)
		l := -q / 2
		for _, x := range f {
			l -= math.Log(x.Variance+t) / 2
		}
		if restricted {
			l -= math.Log(sum) / 2
		}
		return l
	}
	low, high := 0.0, 1.0
	for ll(high) > ll(high/2) && high < 1e300 {
		high *= 2
	}
	const golden = 0.6180339887498949
	for range 200 {
		a, b := high-golden*(high-low), low+golden*(high-low)
		if ll(a) < ll(b) {
			low = a
		} else {
			high = b
		}
	}
	if t := (low + high) / 2; ll(t) > ll(0) {
		return t
	}
	return 0
}

// Tau2Interval returns the Q-profile interval of the variance between sources
// (Viechtbauer 2007).
func Tau2Interval(f []Finding, level float64) (stat.Interval, error) {
	if err := checkFindings(f); err != nil {
		return stat.Interval{}, err
	}
	df, tail := float64(len(f)-1), (1-level)/2
	return stat.Interval{Low: tau2Where(f, stat.ChiSquaredQuantile(1-tail, df)), High: tau2Where(f, stat.ChiSquaredQuantile(tail, df))}, nil
}

// KnappHartung returns the pooled estimate's error and interval by Student's t
// on the spread seen (Knapp and Hartung 2003), which few sources need.
func (p Pooled) KnappHartung(f []Finding, level float64) (se float64, i stat.Interval) {
	_, sum, _, q := weightedMean(f, p.Tau2)
	df := float64(len(f) - 1)
	se = math.Sqrt(q / df / sum)
	half := stat.StudentQuantile(1-(1-level)/2, df) * se
	return se, stat.Interval{Low: p.Estimate - half, High: p.Estimate + half}
}

// Slope is the change of the estimate with a property of the sources.
type Slope struct {
	Intercept, Slope, SE float64 // SE of the slope
	Tau2                 float64 // left between sources
	QE                   float64 // disagreement left
	DF                   int
}

// Along relates findings to x, one value a source, with the spread left
// between sources by the method of moments (DerSimonian and Laird).
func Along(f []Finding, x []float64) (Slope, error) {
	if err := checkFindings(f); err != nil {
		return Slope{}, err
	}
	if len(x) != len(f) || len(f) < 3 {
		return Slope{}, fmt.Errorf("%d findings with %d values give no slope", len(f), len(x))
	}
	rows, y, w := make([][]float64, len(f)), make([]float64, len(f)), make([]float64, len(f))
	for i := range f {
		rows[i], y[i], w[i] = []float64{1, x[i]}, f[i].Estimate, 1/f[i].Variance
	}
	beta, inverse, err := linear.WeightedFit(rows, y, w)
	if err != nil {
		return Slope{}, err
	}
	qe, trace := 0.0, 0.0
	for i := range f {
		r := y[i] - linear.Dot(rows[i], beta)
		qe += w[i] * r * r
		hat := inverse.At(0, 0) + 2*inverse.At(0, 1)*x[i] + inverse.At(1, 1)*x[i]*x[i]
		trace += w[i] - w[i]*w[i]*hat
	}
	df := len(f) - 2
	tau2 := math.Max(0, (qe-float64(df))/trace)
	for i := range f {
		w[i] = 1 / (f[i].Variance + tau2)
	}
	if beta, inverse, err = linear.WeightedFit(rows, y, w); err != nil {
		return Slope{}, err
	}
	return Slope{beta[0], beta[1], math.Sqrt(inverse.At(1, 1)), tau2, qe, df}, nil
}

// LogRiskRatio returns the finding of a against b: the log of the ratio of their
// fractions.
func LogRiskRatio(a, b stat.Count) Finding {
	return Finding{
		math.Log(a.Fraction()) - math.Log(b.Fraction()),
		1/float64(a.Hatched) - 1/float64(a.Eggs) + 1/float64(b.Hatched) - 1/float64(b.Eggs),
	}
}

// LogitFinding returns the logit of a fraction with variance 1/r+1/(n-r), half
// an egg added to both sides where none or all hatched.
func LogitFinding(c stat.Count) Finding {
	r, u := float64(c.Hatched), float64(c.Eggs-c.Hatched)
	if r == 0 || u == 0 {
		r, u = r+0.5, u+0.5
	}
	return Finding{math.Log(r / u), 1/r + 1/u}
}

// ArcsineFinding returns the double-arcsine of a fraction in its halved form
// (Freeman and Tukey 1950), with variance 1/(4n+2).
func ArcsineFinding(c stat.Count) Finding {
	x, n := float64(c.Hatched), float64(c.Eggs)
	return Finding{0.5 * (math.Asin(math.Sqrt(x/(n+1))) + math.Asin(math.Sqrt((x+1)/(n+1)))), 1 / (4*n + 2)}
}

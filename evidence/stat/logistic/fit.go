package logistic

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
)

// Fit is a fitted logistic model. Estimates are on the logit scale.
type Fit struct {
	Terms    []string
	Estimate []float64
	SE       []float64
	// Statistic is a z value where Dispersion is taken as known (DF 0 in the
	// test) and a t value on DF degrees of freedom otherwise.
	Statistic []float64
	P         []float64

	DF           int     // dishes less columns
	Dispersion   float64 // factor on the binomial variance; 1 when taken as known
	Rho          float64 // beta-binomial correlation within dishes
	Deviance     float64
	NullDeviance float64
	Pearson      float64 // sum of squared Pearson residuals
	LogLik       float64
	Fitted       []float64 // fraction of each dish

	estimated bool // the dispersion is, so tests use t and F
}

// AIC returns Akaike's criterion, -2 log-likelihood + 2 parameters.
func (f *Fit) AIC() float64 { return 2*float64(len(f.Estimate)) - 2*f.LogLik }

const (
	mostSteps = 60
	stepDone  = 1e-10
)

// FitBinomial fits the logistic model by maximum likelihood, taking eggs as
// independent (iteratively reweighted least squares). It returns ErrSeparated
// when a combination of treatments is all or nothing.
func FitBinomial(m *Model) (*Fit, error) {
	beta, inverse, err := reweight(m, nil)
	if err != nil {
		return nil, err
	}
	return m.report(beta, inverse), nil
}

// FitQuasi is FitBinomial with the variance scaled by the Pearson dispersion of
// the dishes, and t tests on the dishes' degrees of freedom. With no degree of
// freedom left, dispersion, errors and tests are NaN.
func FitQuasi(m *Model) (*Fit, error) {
	f, err := FitBinomial(m)
	if err != nil {
		return nil, err
	}
	f.scale(f.Pearson / float64(f.DF))
	return f, nil
}

// FitQuasiFloored is FitQuasi with a dispersion never below 1, for dishes that
// agree more closely than eggs can.
func FitQuasiFloored(m *Model) (*Fit, error) {
	f, err := FitBinomial(m)
	if err != nil {
		return nil, err
	}
	f.scale(math.Max(1, f.Pearson/float64(f.DF)))
	return f, nil
}

// scale turns standard errors and tests to an estimated dispersion.
func (f *Fit) scale(dispersion float64) {
	f.Dispersion, f.estimated = dispersion, true
	if f.DF < 1 {
		f.Dispersion = math.NaN()
	}
	for i := range f.SE {
		f.SE[i] *= math.Sqrt(f.Dispersion)
		f.Statistic[i] = f.Estimate[i] / f.SE[i]
		f.P[i] = math.NaN()
		if f.DF >= 1 {
			f.P[i] = stat.StudentTwoSided(f.Statistic[i], float64(f.DF))
		}
	}
}

// reweight iterates to the maximum of the likelihood; prior weights, when
// given, multiply the eggs of each dish.
func reweight(m *Model, prior []float64) (beta []float64, inverse *mat.SymDense, err error) {
	n := len(m.X)
	eta, z, w := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, c := range m.Counts {
		eta[i] = stat.Logit((float64(c.Hatched) + 0.5) / (float64(c.Eggs) + 1))
	}
	var last []float64
	for range mostSteps {
		for i, c := range m.Counts {
			p := stat.Expit(eta[i])
			v := math.Max(p*(1-p), 1e-300)
			w[i] = float64(c.Eggs) * v
			if prior != nil {
				w[i] *= prior[i]
			}
			z[i] = eta[i] + (c.Fraction()-p)/v
		}
		if beta, inverse, err = linear.WeightedFit(m.X, z, w); err != nil {
			break
		}
		moved := 0.0
		for i := range eta {
			next := linear.Dot(m.X[i], beta)
			moved = math.Max(moved, math.Abs(next-eta[i]))
			eta[i] = next
		}
		if moved < stepDone*(1+maxAbs(eta)) {
			return beta, inverse, nil
		}
		if last != nil && maxAbs(eta) > 12 && m.separates(difference(beta, last)) {
			return nil, nil, ErrSeparated
		}
		last = beta
	}
	if err != nil {
		return nil, nil, err
	}
	return nil, nil, ErrNoConvergence
}

// separates reports whether moving along d only ever makes the dishes likelier:
// it raises none that hatched nothing, lowers none that hatched all, and leaves
// the mixed ones. Then no finite estimate is the best.
func (m *Model) separates(d []float64) bool {
	tol := 1e-4 * maxAbs(d)
	any := false
	for i, c := range m.Counts {
		s := linear.Dot(m.X[i], d)
		switch {
		case c.Hatched == 0 && s > tol, c.Hatched == c.Eggs && s < -tol,
			c.Hatched > 0 && c.Hatched < c.Eggs && math.Abs(s) > tol:
			return false
		}
		any = any || math.Abs(s) > 100*tol
	}
	return any
}

// report works out what a binomial fit says.
func (m *Model) report(beta []float64, inverse *mat.SymDense) *Fit {
	f := &Fit{Terms: m.Terms, Estimate: beta, DF: len(m.X) - len(beta), Dispersion: 1}
	var hatched, eggs float64
	for _, c := range m.Counts {
		hatched += float64(c.Hatched)
		eggs += float64(c.Eggs)
	}
	for j := range beta {
		se := math.Sqrt(inverse.At(j, j))
		f.SE = append(f.SE, se)
		f.Statistic = append(f.Statistic, beta[j]/se)
		f.P = append(f.P, 2*stat.NormalTail(math.Abs(beta[j]/se)))
	}
	for i, c := range m.Counts {
		p := stat.Expit(linear.Dot(m.X[i], beta))
		f.Fitted = append(f.Fitted, p)
		f.Deviance += devianceOf(c, p)
		f.NullDeviance += devianceOf(c, hatched/eggs)
		f.Pearson += pearsonOf(c, p)
		f.LogLik += stat.LogChoose(c.Eggs, c.Hatched) + xlogy(float64(c.Hatched), p) + xlogy(float64(c.Eggs-c.Hatched), 1-p)
	}
	return f
}

func devianceOf(c stat.Count, p float64) float64 {
	x, n := float64(c.Hatched), float64(c.Eggs)
	return 2 * (xlogy(x, x/n) - xlogy(x, p) + xlogy(n-x, 1-x/n) - xlogy(n-x, 1-p))
}

func pearsonOf(c stat.Count, p float64) float64 {
	r := float64(c.Hatched) - float64(c.Eggs)*p
	v := float64(c.Eggs) * p * (1 - p)
	if r == 0 || v == 0 {
		return 0
	}
	return r * r / v
}

// xlogy returns x·log(y), 0 where x is 0.
func xlogy(x, y float64) float64 {
	if x == 0 {
		return 0
	}
	return x * math.Log(y)
}

func maxAbs(v []float64) float64 {
	m := 0.0
	for _, x := range v {
		m = math.Max(m, math.Abs(x))
	}
	return m
}

func difference(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] - b[i]
	}
	return out
}

// Test compares the full fit of m with one that lacks the given columns, by
// the change of deviance: F where the dispersion is estimated, else
// chi-squared.
func (f *Fit) Test(m *Model, columns []int) (stat.TermTest, error) {
	small, err := FitBinomial(m.without(columns))
	if err != nil {
		return stat.TermTest{}, err
	}
	return f.compare(small.Deviance-f.Deviance, len(columns)), nil
}

func (f *Fit) compare(gain float64, df int) stat.TermTest {
	gain = math.Max(gain, 0)
	if !f.estimated {
		return stat.TermTest{Statistic: gain, DF1: df, P: stat.ChiSquaredTail(gain, float64(df))}
	}
	t := stat.TermTest{Statistic: gain / float64(df) / f.Dispersion, DF1: df, DF2: f.DF, P: math.NaN()}
	if f.DF >= 1 {
		t.P = stat.FTail(t.Statistic, float64(df), float64(f.DF))
	}
	return t
}

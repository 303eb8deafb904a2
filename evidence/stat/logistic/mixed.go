package logistic

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
)

// MixedFit is a logistic model whose dishes differ by normal deviates on the
// logit scale.
type MixedFit struct {
	Fit
	SD float64 // of the dishes' deviates
}

// FitMixed fits the logistic model with a normal deviate for each dish by
// maximum likelihood. With one point the integral over the deviates is
// Laplace's approximation; more points are adaptive Gauss-Hermite quadrature.
// The coefficients speak of a typical dish, not of the mean over dishes as those
// of [FitBetaBinomial] do. Errors come from the observed information.
func FitMixed(m *Model, points int) (*MixedFit, error) {
	if points < 1 {
		return nil, fmt.Errorf("%d points integrate nothing", points)
	}
	start, err := FitBinomial(m)
	if err != nil {
		return nil, err
	}
	q := newQuadrature(points)
	loss := func(par []float64) float64 { return -q.logLik(m, par) }
	par := append(append([]float64(nil), start.Estimate...), math.Log(0.3))
	problem := optimize.Problem{Func: loss, Grad: func(g, x []float64) {
		fd.Gradient(g, loss, x, &fd.Settings{Formula: fd.Central})
	}}
	settings := &optimize.Settings{GradientThreshold: 1e-6, MajorIterations: 500}
	res, err := optimize.Minimize(problem, par, settings, &optimize.BFGS{})
	if res == nil || err != nil && maxAbs(res.Gradient) > 1e-3 { // the line search ends where differences no longer tell
		return nil, ErrNoConvergence
	}
	return q.report(m, start, res.X, loss)
}

// Test compares f with a fit that lacks the given columns, by the likelihood
// ratio with as many points.
func (f *MixedFit) Test(m *Model, columns []int, points int) (stat.TermTest, error) {
	small, err := FitMixed(m.without(columns), points)
	if err != nil {
		return stat.TermTest{}, err
	}
	return f.compare(2*(f.LogLik-small.LogLik), len(columns)), nil
}

// quadrature holds Gauss-Hermite nodes for a standard normal deviate, as their
// places and the logs of their weights.
type quadrature struct{ at, logWeight []float64 }

func newQuadrature(points int) quadrature {
	x, w := make([]float64, points), make([]float64, points)
	quad.Hermite{}.FixedLocations(x, w, math.Inf(-1), math.Inf(1))
	q := quadrature{}
	for i := range x {
		q.at = append(q.at, x[i])
		q.logWeight = append(q.logWeight, math.Log(w[i])+x[i]*x[i])
	}
	return q
}

// logLik sums over the dishes the log of the chance of their counts with the
// deviate integrated out about its own most likely value.
func (q quadrature) logLik(m *Model, par []float64) float64 {
	k := len(par) - 1
	sd := math.Exp(par[k])
	var sum float64
	for i, row := range m.X {
		sum += q.dish(m.Counts[i], linear.Dot(row, par[:k]), sd)
	}
	return sum
}

func (q quadrature) dish(c stat.Count, eta, sd float64) float64 {
	x, n := float64(c.Hatched), float64(c.Eggs)
	g := func(u float64) float64 {
		e := eta + sd*u
		return x*e - n*softplus(e) - u*u/2
	}
	u, curve := 0.0, 1.0
	for range 100 {
		p := stat.Expit(eta + sd*u)
		curve = n*p*(1-p)*sd*sd + 1
		step := ((x-n*p)*sd - u) / curve
		u += step
		if math.Abs(step) < 1e-13 {
			break
		}
	}
	scale := math.Sqrt2 / math.Sqrt(curve)
	top := g(u)
	var sum float64
	for j, at := range q.at {
		sum += math.Exp(q.logWeight[j] + g(u+scale*at) - top)
	}
	return stat.LogChoose(c.Eggs, c.Hatched) + top + math.Log(scale*sum) - math.Log(2*math.Pi)/2
}

// softplus returns log(1+exp(x)).
func softplus(x float64) float64 {
	if x > 0 {
		return x + math.Log1p(math.Exp(-x))
	}
	return math.Log1p(math.Exp(x))
}

func (q quadrature) report(m *Model, start *Fit, par []float64, loss func([]float64) float64) (*MixedFit, error) {
	k := len(par) - 1
	info := mat.NewSymDense(k+1, nil)
	fd.Hessian(info, loss, par, &fd.Settings{Step: 1e-3, Formula: fd.Central})
	inverse, ok := linear.Inverse(info)
	if !ok {
		return nil, ErrNoConvergence
	}
	f := &MixedFit{Fit: *m.report(par[:k], inverse), SD: math.Exp(par[k])}
	f.DF, f.NullDeviance, f.LogLik = start.DF-1, start.NullDeviance, -loss(par)
	return f, nil
}

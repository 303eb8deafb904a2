package logistic

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
	"hatchlore/evidence/stat/spread"
)

// FitBetaBinomial fits the logistic model with beta-binomial dishes by maximum
// likelihood. Errors come from the observed information; tests are of normal
// size, which is generous with few dishes. Where the dishes spread no more than
// eggs drawn from one lot would, Rho is 0 and the fit is the binomial one.
func FitBetaBinomial(m *Model) (*Fit, error) {
	start, err := FitBinomial(m)
	if err != nil {
		return nil, err
	}
	b := &betaFit{m: m}
	if b.scoreAtZero(start.Estimate) <= 0 {
		return start, nil
	}
	par, inverse, err := b.newton(append(append([]float64(nil), start.Estimate...), math.Log(b.startTheta(start))))
	if err != nil {
		return nil, err
	}
	return b.report(start, par, inverse), nil
}

// betaFit works with par = coefficients, then log theta where theta is
// rho/(1-rho).
type betaFit struct{ m *Model }

func (b *betaFit) startTheta(f *Fit) float64 {
	var eggs float64
	for _, c := range b.m.Counts {
		eggs += float64(c.Eggs)
	}
	each := eggs / float64(len(b.m.Counts))
	rho := 0.02
	if each > 1 && f.DF > 0 {
		rho = (f.Pearson/float64(f.DF) - 1) / (each - 1)
	}
	rho = math.Min(0.9, math.Max(0.005, rho))
	return rho / (1 - rho)
}

// scoreAtZero is the slope of the log-likelihood in theta at theta 0; not
// positive when any spread would make the dishes less likely.
func (b *betaFit) scoreAtZero(beta []float64) float64 {
	var s float64
	for i, c := range b.m.Counts {
		s += dishTerms(c, stat.Expit(linear.Dot(b.m.X[i], beta)), 0).theta
	}
	return s
}

// terms are the log-likelihood of a dish, without the binomial coefficient, and
// its derivatives in the fraction p and in theta.
type terms struct{ l, p, theta, pp, ptheta, thetatheta float64 }

func dishTerms(c stat.Count, p, theta float64) terms {
	var t terms
	for j := range c.Hatched {
		d, k := p+float64(j)*theta, float64(j)
		t.l += math.Log(d)
		t.p += 1 / d
		t.theta += k / d
		t.pp -= 1 / (d * d)
		t.ptheta -= k / (d * d)
		t.thetatheta -= k * k / (d * d)
	}
	for j := range c.Eggs - c.Hatched {
		d, k := 1-p+float64(j)*theta, float64(j)
		t.l += math.Log(d)
		t.p -= 1 / d
		t.theta += k / d
		t.pp -= 1 / (d * d)
		t.ptheta += k / (d * d)
		t.thetatheta -= k * k / (d * d)
	}
	for j := range c.Eggs {
		d, k := 1+float64(j)*theta, float64(j)
		t.l -= math.Log(d)
		t.theta -= k / d
		t.thetatheta += k * k / (d * d)
	}
	return t
}

// at returns the log-likelihood, its slope and the negative of its curvature.
func (b *betaFit) at(par []float64) (l float64, slope []float64, info *mat.SymDense) {
	k := len(par) - 1
	theta := math.Exp(par[k])
	slope, info = make([]float64, k+1), mat.NewSymDense(k+1, nil)
	for i, row := range b.m.X {
		p := stat.Expit(linear.Dot(row, par[:k]))
		t := dishTerms(b.m.Counts[i], p, theta)
		l += t.l
		v := p * (1 - p)
		eta := t.p * v
		etaeta := t.pp*v*v + t.p*v*(1-2*p)
		for a := range k {
			slope[a] += eta * row[a]
			for c := a; c < k; c++ {
				info.SetSym(a, c, info.At(a, c)-etaeta*row[a]*row[c])
			}
			info.SetSym(a, k, info.At(a, k)-t.ptheta*v*theta*row[a])
		}
		slope[k] += t.theta * theta
		info.SetSym(k, k, info.At(k, k)-(t.thetatheta*theta*theta+t.theta*theta))
	}
	return l, slope, info
}

// newton climbs with halved steps; where the curvature points the wrong way it
// leans on the steepest ascent.
func (b *betaFit) newton(par []float64) ([]float64, *mat.SymDense, error) {
	l, slope, info := b.at(par)
	for range 200 {
		step, ok := leaningStep(info, slope)
		if !ok {
			return nil, nil, ErrNoConvergence
		}
		scale := math.Min(1, 3/math.Max(3, maxAbs(step)))
		for ; scale > 1e-10; scale /= 2 {
			next := make([]float64, len(par))
			for j := range par {
				next[j] = par[j] + scale*step[j]
			}
			nl, ns, ni := b.at(next)
			if nl >= l-1e-13*math.Abs(l) {
				par, l, slope, info = next, nl, ns, ni
				break
			}
		}
		if maxAbs(slope) < 1e-8 {
			inverse, ok := linear.Inverse(info)
			if !ok {
				return nil, nil, ErrNoConvergence
			}
			return par, inverse, nil
		}
		if scale <= 1e-10 {
			break
		}
	}
	return nil, nil, ErrNoConvergence
}

func leaningStep(info *mat.SymDense, slope []float64) ([]float64, bool) {
	n := info.SymmetricDim()
	free := make([]bool, n)
	for i := range free {
		free[i] = true
	}
	for ridge := 0.0; ridge < 1e8; ridge = math.Max(10*ridge, 1e-3) {
		leaned := mat.NewSymDense(n, nil)
		leaned.CopySym(info)
		for i := range n {
			leaned.SetSym(i, i, leaned.At(i, i)+ridge)
		}
		if step, ok := freeStep(leaned, slope, free); ok {
			return step, true
		}
	}
	return nil, false
}

func (b *betaFit) report(start *Fit, par []float64, inverse *mat.SymDense) *Fit {
	k := len(par) - 1
	theta := math.Exp(par[k])
	f := b.m.report(par[:k], inverse)
	f.NullDeviance, f.DF = start.NullDeviance, start.DF-1
	f.Rho = theta / (1 + theta)
	f.LogLik = 0
	for i, c := range b.m.Counts {
		f.LogLik += spread.BetaBinomial{N: c.Eggs, P: f.Fitted[i], Rho: f.Rho}.LogProb(c.Hatched)
	}
	return f
}

// TestBetaBinomial compares a fit by FitBetaBinomial with one that lacks the
// given columns, by the likelihood ratio.
func (f *Fit) TestBetaBinomial(m *Model, columns []int) (stat.TermTest, error) {
	small, err := FitBetaBinomial(m.without(columns))
	if err != nil {
		return stat.TermTest{}, err
	}
	return f.compare(2*(f.LogLik-small.LogLik), len(columns)), nil
}

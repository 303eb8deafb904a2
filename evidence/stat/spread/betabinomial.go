package spread

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/stat/distuv"

	"hatchlore/evidence/stat"
)

// BetaBinomial is the distribution of the eggs hatched in one dish of N when
// dishes differ: the chance of hatching varies between dishes as a beta
// distribution with mean P and intraclass correlation Rho. Rho 0 is the
// binomial, Rho 1 all or nothing. With a and b the beta's parameters,
// P = a/(a+b) and Rho = 1/(a+b+1).
type BetaBinomial struct {
	N      int
	P, Rho float64
}

// Mean returns N·P.
func (b BetaBinomial) Mean() float64 { return float64(b.N) * b.P }

// Variance returns N·P·(1-P)·(1+(N-1)·Rho).
func (b BetaBinomial) Variance() float64 {
	return float64(b.N) * b.P * (1 - b.P) * DesignEffect(b.N, b.Rho)
}

// LogProb returns the log of the chance of exactly x eggs; -Inf outside 0..N.
func (b BetaBinomial) LogProb(x int) float64 {
	switch {
	case x < 0 || x > b.N:
		return math.Inf(-1)
	case b.P <= 0:
		return certain(x == 0)
	case b.P >= 1:
		return certain(x == b.N)
	case b.Rho <= 0:
		return stat.LogChoose(b.N, x) + float64(x)*math.Log(b.P) + float64(b.N-x)*math.Log1p(-b.P)
	case b.Rho >= 1:
		return allOrNothing(x, b.N, b.P)
	}
	return stat.LogChoose(b.N, x) + betaBinomialKernel(x, b.N, b.P, b.Rho)
}

// Prob returns the chance of exactly x eggs.
func (b BetaBinomial) Prob(x int) float64 { return math.Exp(b.LogProb(x)) }

func certain(yes bool) float64 {
	if yes {
		return 0
	}
	return math.Inf(-1)
}

func allOrNothing(x, n int, p float64) float64 {
	switch {
	case n == 0:
		return 0
	case x == 0:
		return math.Log1p(-p)
	case x == n:
		return math.Log(p)
	}
	return math.Inf(-1)
}

// betaBinomialKernel is the log chance without the binomial coefficient, as a
// sum over eggs: it keeps its precision when rho is tiny, where the beta
// functions of the usual formula cancel.
func betaBinomialKernel(x, n int, p, rho float64) float64 {
	theta := rho / (1 - rho)
	var l float64
	for j := range x {
		l += math.Log(p + float64(j)*theta)
	}
	for j := range n - x {
		l += math.Log(1 - p + float64(j)*theta)
	}
	for j := range n {
		l -= math.Log1p(float64(j) * theta)
	}
	return l
}

// DesignEffect returns 1+(m-1)·rho, by which the variance of a fraction grows
// when m eggs share a dish (Kish 1965).
func DesignEffect(m int, rho float64) float64 { return 1 + float64(m-1)*rho }

// A Sampler draws counts from one distribution by its cumulative table.
type Sampler struct{ upTo []float64 }

// Sampler tabulates the distribution for drawing. It refuses N below 0 and P or
// Rho outside 0 to 1.
func (b BetaBinomial) Sampler() (*Sampler, error) {
	if b.N < 0 || !(b.P >= 0 && b.P <= 1) || !(b.Rho >= 0 && b.Rho <= 1) {
		return nil, fmt.Errorf("no beta-binomial has %d eggs, fraction %v and correlation %v", b.N, b.P, b.Rho)
	}
	s := &Sampler{upTo: make([]float64, b.N+1)}
	var sum float64
	for x := range s.upTo {
		sum += b.Prob(x)
		s.upTo[x] = sum
	}
	for x := range s.upTo {
		s.upTo[x] /= sum
	}
	return s, nil
}

// Draw returns one count.
func (s *Sampler) Draw(r *rand.Rand) int {
	x := sort.SearchFloat64s(s.upTo, r.Float64())
	return min(x, len(s.upTo)-1)
}

// DrawBeta draws a dish's own chance of hatching from the beta distribution
// with mean p and intraclass correlation rho. Without spread it is p itself.
func DrawBeta(p, rho float64, r *rand.Rand) float64 {
	if rho <= 0 || p <= 0 || p >= 1 {
		return p
	}
	if rho >= 1 {
		if r.Float64() < p {
			return 1
		}
		return 0
	}
	k := (1 - rho) / rho
	x := distuv.Beta{Alpha: p * k, Beta: (1 - p) * k, Src: r}.Rand()
	if math.IsNaN(x) { // both gammas underflow when dishes are nearly all or nothing
		return DrawBeta(p, 1, r)
	}
	return x
}

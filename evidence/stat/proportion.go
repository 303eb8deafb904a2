package stat

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Count is a number of eggs hatched out of a number set.
type Count struct{ Hatched, Eggs int }

// Check refuses counts that cannot be.
func (c Count) Check() error {
	if c.Eggs < 1 || c.Hatched < 0 || c.Hatched > c.Eggs {
		return fmt.Errorf("%d hatched of %d eggs cannot be", c.Hatched, c.Eggs)
	}
	return nil
}

// Fraction returns Hatched/Eggs.
func (c Count) Fraction() float64 { return float64(c.Hatched) / float64(c.Eggs) }

// Interval is a confidence interval.
type Interval struct{ Low, High float64 }

// Contains reports whether x lies within the interval, ends included.
func (i Interval) Contains(x float64) bool { return i.Low <= x && x <= i.High }

// Wilson returns the score interval of a proportion at the given level, such as
// 0.95 (Wilson 1927; NIST/SEMATECH e-Handbook 7.2.4.1). The counts must be
// sound, see [Count.Check].
func Wilson(c Count, level float64) Interval {
	n, x := float64(c.Eggs), float64(c.Hatched)
	z := NormalQuantile(1 - (1-level)/2)
	mid, half := 2*x+z*z, z*math.Sqrt(z*z+4*x*(1-x/n))
	i := Interval{(mid - half) / (2 * (n + z*z)), (mid + half) / (2 * (n + z*z))}
	return i.pin(c)
}

// WilsonCorrected returns the score interval with continuity correction
// (Newcombe 1998, Statistics in Medicine 17:857, method 4).
func WilsonCorrected(c Count, level float64) Interval {
	n, p := float64(c.Eggs), c.Fraction()
	q := 1 - p
	z := NormalQuantile(1 - (1-level)/2)
	low := (2*n*p + z*z - 1 - z*math.Sqrt(z*z-2-1/n+4*p*(n*q+1))) / (2 * (n + z*z))
	high := (2*n*p + z*z + 1 + z*math.Sqrt(z*z+2-1/n+4*p*(n*q-1))) / (2 * (n + z*z))
	return Interval{math.Max(0, low), math.Min(1, high)}.pin(c)
}

// ClopperPearson returns the exact interval (Clopper and Pearson 1934), which
// never covers less than the level says and usually more.
func ClopperPearson(c Count, level float64) Interval {
	x, n, tail := float64(c.Hatched), float64(c.Eggs), (1-level)/2
	i := Interval{0, 1}
	if c.Hatched > 0 {
		i.Low = Bisect(0, 1, func(p float64) float64 { return betaCDF(p, x, n-x+1) - tail })
	}
	if c.Hatched < c.Eggs {
		i.High = Bisect(0, 1, func(p float64) float64 { return betaCDF(p, x+1, n-x) - (1 - tail) })
	}
	return i
}

// MidP returns the exact interval that counts half of the observed outcome's
// probability (Newcombe 1998, method 6).
func MidP(c Count, level float64) Interval {
	tail := (1 - level) / 2
	below := func(p float64) float64 {
		b := distuv.Binomial{N: float64(c.Eggs), P: p}
		return b.CDF(float64(c.Hatched-1)) + 0.5*b.Prob(float64(c.Hatched))
	}
	i := Interval{0, 1}
	if c.Hatched > 0 {
		i.Low = Bisect(0, 1, func(p float64) float64 { return 1 - below(p) - tail })
	}
	if c.Hatched < c.Eggs {
		i.High = Bisect(0, 1, func(p float64) float64 { return tail - below(p) })
	}
	return i
}

// pin sets the limits that are exact where none or all hatched.
func (i Interval) pin(c Count) Interval {
	if c.Hatched == 0 {
		i.Low = 0
	}
	if c.Hatched == c.Eggs {
		i.High = 1
	}
	return i
}

// NoneHatchedLimit returns the exact one-sided upper limit of the hatching
// fraction when none of n eggs hatched: 1-(1-level)^(1/n).
func NoneHatchedLimit(n int, level float64) float64 {
	return -math.Expm1(math.Log1p(-level) / float64(n))
}

// NewcombeDifference returns the interval of a's fraction minus b's that
// combines their Wilson intervals (Newcombe 1998, Statistics in Medicine
// 17:873, method 10). It treats eggs as independent.
func NewcombeDifference(a, b Count, level float64) Interval {
	pa, pb, ia, ib := a.Fraction(), b.Fraction(), Wilson(a, level), Wilson(b, level)
	return Interval{
		pa - pb - math.Hypot(pa-ia.Low, ib.High-pb),
		pa - pb + math.Hypot(ia.High-pa, pb-ib.Low),
	}
}

func betaCDF(x, a, b float64) float64 { return distuv.Beta{Alpha: a, Beta: b}.CDF(x) }

package compare

import (
	"math"

	"hatchlore/evidence/stat"
)

// FisherResult is the outcome of Fisher's exact test of two groups.
type FisherResult struct {
	Less     float64 // one-sided: the first group hatched less
	Greater  float64 // one-sided: the first group hatched more
	TwoSided float64 // the tables no more likely than the one seen
}

// conditional is the distribution of the first group's count given all margins.
type conditional struct {
	low, seen int
	logs      []float64 // log weight at odds ratio 1, from low upwards
}

func condition(a, b stat.Count) conditional {
	total := a.Hatched + b.Hatched
	c := conditional{low: max(0, total-b.Eggs), seen: a.Hatched}
	for x := c.low; x <= min(total, a.Eggs); x++ {
		c.logs = append(c.logs, stat.LogChoose(a.Eggs, x)+stat.LogChoose(b.Eggs, total-x))
	}
	return c
}

// at returns the probabilities when the odds ratio has the given log.
func (c conditional) at(logOdds float64) []float64 {
	top := math.Inf(-1)
	p := make([]float64, len(c.logs))
	for i, l := range c.logs {
		p[i] = l + float64(c.low+i)*logOdds
		top = math.Max(top, p[i])
	}
	var sum float64
	for i := range p {
		p[i] = math.Exp(p[i] - top)
		sum += p[i]
	}
	for i := range p {
		p[i] /= sum
	}
	return p
}

// Fisher returns the exact test of equal hatching in two groups of eggs, taken
// as independent (Fisher 1935). Tables whose probability ties with the one
// seen, to 1 part in 10 million, count as no more likely.
func Fisher(a, b stat.Count) FisherResult {
	c := condition(a, b)
	p := c.at(0)
	k := c.seen - c.low
	var r FisherResult
	for i, q := range p {
		if i <= k {
			r.Less += q
		}
		if i >= k {
			r.Greater += q
		}
		if q <= p[k]*(1+1e-7) {
			r.TwoSided += q
		}
	}
	r.Less, r.Greater, r.TwoSided = math.Min(1, r.Less), math.Min(1, r.Greater), math.Min(1, r.TwoSided)
	return r
}

// Margins returns the null distribution of the first group's count given the
// margins, from its lowest possible value upwards.
func Margins(a, b stat.Count) []float64 { return condition(a, b).at(0) }

// OddsRatio returns the conditional maximum-likelihood odds ratio of a against
// b, 0 or infinite where one corner is empty.
func OddsRatio(a, b stat.Count) float64 {
	c := condition(a, b)
	switch {
	case len(c.logs) == 1:
		return math.NaN()
	case c.seen == c.low:
		return 0
	case c.seen == c.low+len(c.logs)-1:
		return math.Inf(1)
	}
	return math.Exp(stat.Bisect(-60, 60, func(l float64) float64 {
		var mean float64
		for i, q := range c.at(l) {
			mean += float64(c.low+i) * q
		}
		return mean - float64(c.seen)
	}))
}

// OddsRatioInterval returns exact limits of the odds ratio, each leaving half of
// 1-level beyond it. For a one-sided limit at 0.95 ask for level 0.90 and take
// one end.
func OddsRatioInterval(a, b stat.Count, level float64) stat.Interval {
	c := condition(a, b)
	tail, k := (1-level)/2, c.seen-c.low
	i := stat.Interval{Low: 0, High: math.Inf(1)}
	if k > 0 {
		i.Low = math.Exp(stat.Bisect(-60, 60, func(l float64) float64 { return total(c.at(l)[k:]) - tail }))
	}
	if k < len(c.logs)-1 {
		i.High = math.Exp(stat.Bisect(-60, 60, func(l float64) float64 { return tail - total(c.at(l)[:k+1]) }))
	}
	return i
}

func total(p []float64) float64 {
	var s float64
	for _, v := range p {
		s += v
	}
	return s
}

// ChiSquared returns Pearson's statistic on 1 degree of freedom for two groups,
// without and with Yates's correction; NaN where all or none hatched in both.
func ChiSquared(a, b stat.Count) (pearson, yates float64) {
	w, x := float64(a.Hatched), float64(a.Eggs-a.Hatched)
	y, z := float64(b.Hatched), float64(b.Eggs-b.Hatched)
	n := w + x + y + z
	det := math.Abs(w*z - x*y)
	margins := (w + x) * (y + z) * (w + y) * (x + z)
	less := math.Max(0, det-n/2)
	return n * det * det / margins, n * less * less / margins
}

// Boschloo returns the two-sided unconditional exact p value that orders tables
// by Fisher's one-sided p: twice the smaller of the two one-sided values
// (Boschloo 1970). It is less cautious than Fisher's with few eggs.
func Boschloo(a, b stat.Count) float64 {
	less := unconditional(a, b, func(x, y stat.Count) float64 { return Fisher(x, y).Less })
	greater := unconditional(a, b, func(x, y stat.Count) float64 { return Fisher(x, y).Greater })
	return math.Min(1, 2*math.Min(less, greater))
}

// unconditional maximises, over the common fraction, the chance of tables whose
// order is no higher than that of the one seen.
func unconditional(a, b stat.Count, order func(x, y stat.Count) float64) float64 {
	seen := order(a, b)
	type table struct {
		log  float64
		hits int
	}
	var extreme []table
	for x := range a.Eggs + 1 {
		for y := range b.Eggs + 1 {
			if order(stat.Count{Hatched: x, Eggs: a.Eggs}, stat.Count{Hatched: y, Eggs: b.Eggs}) <= seen*(1+1e-9) {
				extreme = append(extreme, table{stat.LogChoose(a.Eggs, x) + stat.LogChoose(b.Eggs, y), x + y})
			}
		}
	}
	n := a.Eggs + b.Eggs
	chance := func(p float64) float64 {
		var s float64
		for _, t := range extreme {
			s += math.Exp(t.log + float64(t.hits)*math.Log(p) + float64(n-t.hits)*math.Log1p(-p))
		}
		return s
	}
	return maximum(chance, 0, 1, 1000)
}

// maximum searches a grid of f inside low and high and refines about its best.
func maximum(f func(float64) float64, low, high float64, steps int) float64 {
	best, at, width := math.Inf(-1), low, (high-low)/float64(steps)
	for round := 0; round < 6; round++ {
		for i := 1; i < steps; i++ {
			x := low + (high-low)*float64(i)/float64(steps)
			if v := f(x); v > best {
				best, at = v, x
			}
		}
		low, high = math.Max(low, at-width), math.Min(high, at+width)
		steps = 20
		width = (high - low) / 20
	}
	return best
}

// Barnard returns the two-sided unconditional exact p value that orders tables
// by the pooled score statistic (Barnard 1945).
func Barnard(a, b stat.Count) float64 {
	return math.Min(1, unconditional(a, b, func(x, y stat.Count) float64 {
		p := float64(x.Hatched+y.Hatched) / float64(x.Eggs+y.Eggs)
		if p == 0 || p == 1 {
			return 1
		}
		z := (x.Fraction() - y.Fraction()) / math.Sqrt(p*(1-p)*(1/float64(x.Eggs)+1/float64(y.Eggs)))
		return math.Exp(-math.Abs(z))
	}))
}

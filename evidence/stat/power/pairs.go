package power

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/compare"
	"hatchlore/evidence/stat/spread"
)

// The sizes and powers here take eggs as independent: multiply a size by the
// [spread.DesignEffect] for dishes, and simulate at dish level before trusting it.

// Pair returns the power of the two-sided test of two proportions with n
// eggs in each group at level alpha (normal approximation, pooled variance
// under no difference; the far tail is neglected).
func Pair(p1, p2, n, alpha float64) float64 {
	mean := (p1 + p2) / 2
	z := stat.NormalQuantile(1 - alpha/2)
	return 1 - stat.NormalTail((math.Sqrt(n)*math.Abs(p1-p2)-z*math.Sqrt(2*mean*(1-mean)))/math.Sqrt(p1*(1-p1)+p2*(1-p2)))
}

// PairSize returns the eggs per group, before rounding up, that find p1 against
// p2 with the given power (Fleiss 1981, chapter 3, without correction).
func PairSize(p1, p2, power, alpha float64) float64 {
	mean := (p1 + p2) / 2
	s := stat.NormalQuantile(1-alpha/2)*math.Sqrt(2*mean*(1-mean)) + stat.NormalQuantile(power)*math.Sqrt(p1*(1-p1)+p2*(1-p2))
	return s * s / ((p1 - p2) * (p1 - p2))
}

// PairSizeCorrected is PairSize with continuity correction (Fleiss, Tytun and
// Ury 1980, Biometrics 36:343).
func PairSizeCorrected(p1, p2, power, alpha float64) float64 {
	n := PairSize(p1, p2, power, alpha)
	r := 1 + math.Sqrt(1+4/(n*math.Abs(p1-p2)))
	return n / 4 * r * r
}

// PairSizeUnpooled is PairSize with each group's own variance throughout.
func PairSizeUnpooled(p1, p2, power, alpha float64) float64 {
	z := stat.NormalQuantile(1-alpha/2) + stat.NormalQuantile(power)
	return z * z * (p1*(1-p1) + p2*(1-p2)) / ((p1 - p2) * (p1 - p2))
}

// DetectableFraction returns the p2 above p1 that n eggs a group find with the
// given power; NaN when not even 1 is far enough.
func DetectableFraction(p1, n, power, alpha float64) float64 {
	if Pair(p1, 1, n, alpha) < power {
		return math.NaN()
	}
	return stat.Bisect(p1, 1, func(p2 float64) float64 { return Pair(p1, p2, n, alpha) - power })
}

// LevelFor returns the alpha at which n eggs a group reach the given power.
func LevelFor(p1, p2, n, power float64) float64 {
	mean := (p1 + p2) / 2
	z := (math.Sqrt(n)*math.Abs(p1-p2) - stat.NormalQuantile(power)*math.Sqrt(p1*(1-p1)+p2*(1-p2))) / math.Sqrt(2*mean*(1-mean))
	return 2 * stat.NormalTail(z)
}

// ArcsineEffect returns Cohen's h, 2·asin(√p1) - 2·asin(√p2) (Cohen 1988).
func ArcsineEffect(p1, p2 float64) float64 {
	return 2*math.Asin(math.Sqrt(p1)) - 2*math.Asin(math.Sqrt(p2))
}

// ArcsineSize returns the eggs per group for effect h, two-sided, both tails
// counted.
func ArcsineSize(h, power, alpha float64) float64 {
	z := stat.NormalQuantile(1 - alpha/2)
	start := stat.NormalQuantile(power) + z
	most := 2 * start * start / (h * h)
	return stat.Bisect(most/4, 2*most, func(n float64) float64 {
		shift := math.Abs(h) * math.Sqrt(n/2)
		return stat.NormalTail(z-shift) + stat.NormalTail(z+shift) - power
	})
}

// Arcsine returns the one-sided power for effect h and n eggs a group.
func Arcsine(h, n, alpha float64) float64 {
	return stat.NormalTail(stat.NormalQuantile(1-alpha) - math.Abs(h)*math.Sqrt(n/2))
}

// DishesPerArm returns how many dishes of m eggs carry n independent eggs'
// worth when eggs within a dish have correlation rho, and the eggs they hold
// before rounding up.
func DishesPerArm(n float64, m int, rho float64) (dishes int, eggs float64) {
	eggs = n * spread.DesignEffect(m, rho)
	return int(math.Ceil(eggs/float64(m) - 1e-9)), eggs
}

// Fisher returns the exact power of Fisher's two-sided test at level
// alpha, over all outcomes of two groups of n1 and n2 eggs.
func Fisher(p1, p2 float64, n1, n2 int, alpha float64) float64 {
	a, b := distuv.Binomial{N: float64(n1), P: p1}, distuv.Binomial{N: float64(n2), P: p2}
	var power float64
	for x := range n1 + 1 {
		for y := range n2 + 1 {
			if compare.Fisher(stat.Count{Hatched: x, Eggs: n1}, stat.Count{Hatched: y, Eggs: n2}).TwoSided <= alpha {
				power += a.Prob(float64(x)) * b.Prob(float64(y))
			}
		}
	}
	return power
}

// NoneChance returns the chance that none of n eggs hatches when each does
// with chance p.
func NoneChance(p float64, n int) float64 { return math.Exp(float64(n) * math.Log1p(-p)) }

// EggsForOne returns the eggs, before rounding up, that give at least one hatch
// with the given chance.
func EggsForOne(p, chance float64) float64 { return math.Log1p(-chance) / math.Log1p(-p) }

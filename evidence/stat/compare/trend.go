package compare

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hatchlore/evidence/stat"
)

// Trend is a test of a rise or fall of the hatched fraction with a score.
type Trend struct {
	Z      float64 // positive for a rise
	ChiSq  float64 // Z squared, 1 degree of freedom
	P      float64 // two-sided
	ZExact float64 // Z with the finite-population variance (N-1 in place of N)
}

// CochranArmitage tests a trend of the fraction over the groups' scores, such
// as days of cold (Cochran 1954, Armitage 1955). Eggs are taken as independent.
// It refuses unequal lengths and groups that all or none hatched.
func CochranArmitage(groups []stat.Count, scores []float64) (Trend, error) {
	x, n, err := margins(groups, scores)
	if err != nil {
		return Trend{}, err
	}
	p := x / n
	var t, s1, s2 float64
	for i, g := range groups {
		t += scores[i] * (float64(g.Hatched) - float64(g.Eggs)*p)
		s1 += float64(g.Eggs) * scores[i]
		s2 += float64(g.Eggs) * scores[i] * scores[i]
	}
	v := p * (1 - p) * (s2 - s1*s1/n)
	if v <= 0 {
		return Trend{}, fmt.Errorf("a trend needs groups with different scores and an outcome that differs")
	}
	z := t / math.Sqrt(v)
	return Trend{Z: z, ChiSq: z * z, P: 2 * stat.NormalTail(math.Abs(z)), ZExact: t / math.Sqrt(v*n/(n-1))}, nil
}

func margins(groups []stat.Count, scores []float64) (hatched, eggs float64, err error) {
	if len(groups) != len(scores) || len(groups) < 2 {
		return 0, 0, fmt.Errorf("%d groups with %d scores give no trend", len(groups), len(scores))
	}
	for _, g := range groups {
		if err := g.Check(); err != nil {
			return 0, 0, err
		}
		hatched += float64(g.Hatched)
		eggs += float64(g.Eggs)
	}
	return hatched, eggs, nil
}

// ExactTrend returns the exact one- and two-sided p values of the trend given
// the margins. Scores may be any numbers; the work grows with the number of
// different sums that they can form. The two-sided value counts sums no more
// likely to be near their mean: those as far from it as the one seen.
func ExactTrend(groups []stat.Count, scores []float64) (oneSided, twoSided float64, err error) {
	hatched, eggs, err := margins(groups, scores)
	if err != nil {
		return 0, 0, err
	}
	dist := trendSums(groups, scores, int(hatched))
	var mean, seen, all float64
	for i, g := range groups {
		mean += scores[i] * float64(g.Eggs) * hatched / eggs
		seen += scores[i] * float64(g.Hatched)
	}
	slack := 1e-9 * (1 + math.Abs(seen))
	for _, s := range dist {
		all += s.weight
		if (seen >= mean && s.sum >= seen-slack) || (seen < mean && s.sum <= seen+slack) {
			oneSided += s.weight
		}
		if math.Abs(s.sum-mean) >= math.Abs(seen-mean)-slack {
			twoSided += s.weight
		}
	}
	return oneSided / all, twoSided / all, nil
}

type weighted struct{ sum, weight float64 }

// trendSums returns the null distribution, unnormalised, of the sum of scores of
// the hatched eggs when their number is fixed.
func trendSums(groups []stat.Count, scores []float64, hatched int) []weighted {
	at := make([]map[float64]float64, hatched+1) // by eggs placed, sum → log weight
	at[0] = map[float64]float64{0: 0}
	for i, g := range groups {
		next := make([]map[float64]float64, hatched+1)
		for used, sums := range at {
			for sum, w := range sums {
				for k := range min(g.Eggs, hatched-used) + 1 {
					if next[used+k] == nil {
						next[used+k] = map[float64]float64{}
					}
					key := math.Round(1e9*(sum+float64(k)*scores[i])) / 1e9
					lw := w + stat.LogChoose(g.Eggs, k)
					if old, ok := next[used+k][key]; ok {
						lw = logAdd(old, lw)
					}
					next[used+k][key] = lw
				}
			}
		}
		at = next
	}
	top := math.Inf(-1)
	for _, w := range at[hatched] {
		top = math.Max(top, w)
	}
	var out []weighted
	for sum, w := range at[hatched] {
		out = append(out, weighted{sum, math.Exp(w - top)})
	}
	slices.SortFunc(out, func(a, b weighted) int { return cmp.Compare(a.sum, b.sum) })
	return out
}

func logAdd(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// Homogeneity returns Pearson's statistic of equal fractions in all groups, its
// degrees of freedom and p value; NaN where all or none hatched. Eggs are taken as
// independent.
func Homogeneity(groups []stat.Count) (chiSq float64, df int, p float64) {
	var x, n float64
	for _, g := range groups {
		x += float64(g.Hatched)
		n += float64(g.Eggs)
	}
	q := x / n
	for _, g := range groups {
		d := float64(g.Hatched) - float64(g.Eggs)*q
		chiSq += d * d / (float64(g.Eggs) * q * (1 - q))
	}
	return chiSq, len(groups) - 1, stat.ChiSquaredTail(chiSq, float64(len(groups)-1))
}

// KruskalWallis compares groups by ranks, with the correction for ties
// (Kruskal and Wallis 1952), and returns H, its degrees of freedom and the
// chi-squared p value.
func KruskalWallis(groups [][]float64) (h float64, df int, p float64) {
	var all []float64
	for _, g := range groups {
		all = append(all, g...)
	}
	slices.Sort(all)
	n := float64(len(all))
	rank := func(v float64) float64 {
		lo, _ := slices.BinarySearch(all, v)
		hi := lo
		for hi < len(all) && all[hi] == v {
			hi++
		}
		return float64(lo+hi+1) / 2
	}
	for _, g := range groups {
		var r float64
		for _, v := range g {
			r += rank(v)
		}
		h += r * r / float64(len(g))
	}
	h = 12/(n*(n+1))*h - 3*(n+1)
	var ties float64
	for i := 0; i < len(all); {
		j := i
		for j < len(all) && all[j] == all[i] {
			j++
		}
		t := float64(j - i)
		ties += t*t*t - t
		i = j
	}
	if c := 1 - ties/(n*n*n-n); c > 0 {
		h /= c
	}
	return h, len(groups) - 1, stat.ChiSquaredTail(h, float64(len(groups)-1))
}

package stat

import (
	"cmp"
	"math"
	"slices"
)

// Correction adjusts p values for the number of tests made.
type Correction string

const (
	Holm              Correction = "holm" // keeps the chance of any false find at the level (Holm 1979)
	BenjaminiHochberg Correction = "bh"   // keeps the share of false finds at the level (1995)
	Bonferroni        Correction = "bonferroni"
)

// Adjust returns adjusted p values in the order given. NaN stays NaN and is not
// counted as a test.
func (c Correction) Adjust(p []float64) []float64 {
	out := slices.Clone(p)
	var order []int
	for i, v := range p {
		if !math.IsNaN(v) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[a], p[b]) })
	n := float64(len(order))
	switch c {
	case Bonferroni:
		for _, i := range order {
			out[i] = math.Min(1, n*p[i])
		}
	case BenjaminiHochberg:
		least := 1.0
		for k := len(order) - 1; k >= 0; k-- {
			least = math.Min(least, p[order[k]]*n/float64(k+1))
			out[order[k]] = least
		}
	default:
		most := 0.0
		for k, i := range order {
			most = math.Max(most, math.Min(1, (n-float64(k))*p[i]))
			out[i] = most
		}
	}
	return out
}

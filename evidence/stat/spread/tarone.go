package spread

import (
	"math"

	"hatchlore/evidence/stat"
)

// Tarone returns the z statistic of dishes that differ more than eggs drawn from
// one lot would (Tarone 1979, Biometrika 66:585); positive for overdispersion, NaN
// where all or none hatched.
func Tarone(dishes []stat.Count) float64 {
	var x, n, pairs float64
	for _, d := range dishes {
		x += float64(d.Hatched)
		n += float64(d.Eggs)
		pairs += float64(d.Eggs) * float64(d.Eggs-1)
	}
	p := x / n
	var s float64
	for _, d := range dishes {
		r := float64(d.Hatched) - float64(d.Eggs)*p
		s += r * r
	}
	return (s/(p*(1-p)) - n) / math.Sqrt(2*pairs)
}

package spread

import (
	"math/rand/v2"

	"hatchlore/evidence/stat"
)

// AgreementChance returns the chance that dishes agree within their groups as
// closely as these do, or more, if every egg had hatched or not by itself: the
// hatched of each group are dealt anew over its eggs, many times, and the squared
// distances of the dishes from their group's fraction compared. Groups that are
// all or nothing, or have one dish, say nothing; without any other it is 1.
// Where the chi-squared distribution puts the chance above 0.05 its figure is
// given instead of dealing.
//
// A very small chance speaks of counts copied from dish to dish, not of good
// handling: no care can make eggs agree more closely than chance.
func AgreementChance(groups [][]stat.Count, trials int, r *rand.Rand) float64 {
	var telling [][]stat.Count
	for _, g := range groups {
		if all := sumCounts(g); len(g) > 1 && all.Hatched > 0 && all.Hatched < all.Eggs {
			telling = append(telling, g)
		}
	}
	if len(telling) == 0 {
		return 1
	}
	seen, df := distance(telling), 0
	for _, g := range telling {
		df += len(g) - 1
	}
	if p := 1 - stat.ChiSquaredTail(seen, float64(df)); p > 0.05 {
		return p
	}
	closer := 0
	for range trials {
		dealt := make([][]stat.Count, len(telling))
		for k, g := range telling {
			dealt[k] = dealAnew(g, r)
		}
		if distance(dealt) <= seen+1e-12 {
			closer++
		}
	}
	return float64(closer) / float64(trials)
}

func sumCounts(g []stat.Count) (all stat.Count) {
	for _, c := range g {
		all.Hatched += c.Hatched
		all.Eggs += c.Eggs
	}
	return all
}

// distance is Pearson's statistic of the dishes about their groups' fractions.
func distance(groups [][]stat.Count) float64 {
	var sum float64
	for _, g := range groups {
		p := sumCounts(g).Fraction()
		for _, c := range g {
			d := float64(c.Hatched) - float64(c.Eggs)*p
			sum += d * d / (float64(c.Eggs) * p * (1 - p))
		}
	}
	return sum
}

// dealAnew deals the hatched of a group over its eggs by lot.
func dealAnew(g []stat.Count, r *rand.Rand) []stat.Count {
	all := sumCounts(g)
	out := make([]stat.Count, len(g))
	for i, c := range g {
		out[i].Eggs = c.Eggs
		for range c.Eggs {
			if r.IntN(all.Eggs) < all.Hatched {
				out[i].Hatched++
				all.Hatched--
			}
			all.Eggs--
		}
	}
	return out
}

package outcome

import (
	"fmt"
	"math/rand/v2"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
)

// unbelieved is the chance under which dishes that agree so closely are not
// believed (common practice, no source); dealings are enough to tell it.
const (
	unbelieved = 0.001
	dealings   = 4000
)

// tooAlike reports whether dishes treated alike agree more closely than eggs
// that hatch each by itself can. The lot is drawn with a seed of its own: the
// same counts give the same answer.
func tooAlike(dishes []counts.Dish) bool {
	at := map[string]int{}
	var groups [][]stat.Count
	for _, d := range dishes {
		key := cellOf(d)
		k, ok := at[key]
		if !ok {
			k = len(groups)
			at[key] = k
			groups = append(groups, nil)
		}
		groups[k] = append(groups[k], stat.Count{Hatched: d.Hatched, Eggs: d.Eggs})
	}
	return spread.AgreementChance(groups, dealings, rand.New(rand.NewPCG(0x616c696b65, 1))) < unbelieved
}

// cellOf names the treatment of a dish.
func cellOf(d counts.Dish) string { return fmt.Sprint(d.Control, d.Levels) }

// independentVariance is the variance of the difference w of dish fractions
// where every egg hatches by itself. The fraction of a treatment that is all or
// nothing is taken half an egg off its end, so that certainty has a width.
func independentVariance(w trial.Weights, dishes []counts.Dish) float64 {
	cells := map[string]stat.Count{}
	for _, d := range dishes {
		c := cells[cellOf(d)]
		cells[cellOf(d)] = stat.Count{Hatched: c.Hatched + d.Hatched, Eggs: c.Eggs + d.Eggs}
	}
	var sum float64
	for i, d := range dishes {
		c := cells[cellOf(d)]
		p := (float64(c.Hatched) + 0.5) / (float64(c.Eggs) + 1)
		sum += w[i] * w[i] * p * (1 - p) / float64(d.Eggs)
	}
	return sum
}

package outcome

import (
	"fmt"
	"math/rand/v2"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/verdict"
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

// caseOf brings the counted dishes before the judge of the plan's questions.
func caseOf(p *trial.Plan, dishes []counts.Dish, tooAlike bool) verdict.Case {
	var counted []int
	var hatched []stat.Count
	for _, d := range dishes {
		counted, hatched = append(counted, d.Planned), append(hatched, stat.Count{Hatched: d.Hatched, Eggs: d.Eggs})
	}
	return verdict.New(p, counted).Hear(hatched, tooAlike)
}

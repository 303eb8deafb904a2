package spread

import (
	"math/rand/v2"
	"slices"
	"testing"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/stattest"
)

func TestAgreementChance(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 7))
	same := func(dishes, hatched, eggs int) []stat.Count {
		return slices.Repeat(stattest.Counts(hatched, eggs), dishes)
	}
	// Two dishes of 5 eggs with 2 hatched each: C(5,2)² = 100 of C(10,4) = 210 deals.
	stattest.Near(t, "two small dishes", AgreementChance([][]stat.Count{same(2, 2, 5)}, 20000, r), 100.0/210, 0.015)
	// All or nothing tells nothing of copying.
	stattest.Near(t, "all or nothing", AgreementChance([][]stat.Count{same(6, 0, 10), same(6, 10, 10)}, 10, r), 1, 0)
	stattest.Near(t, "single dishes", AgreementChance([][]stat.Count{stattest.Counts(3, 10), stattest.Counts(5, 10)}, 10, r), 1, 0)
	// Six equal dishes in each of two groups: 3.7e-8 by counting the deals.
	stattest.Near(t, "copied counts", AgreementChance([][]stat.Count{same(6, 3, 10), same(6, 5, 10)}, 5000, r), 0, 2e-4)
	// Crowder's plates scatter more than eggs by themselves would.
	if p := AgreementChance(stattest.PlateGroups(), 2000, r); p < 0.9 {
		t.Errorf("plates that scatter: %v", p)
	}
	// Eggs that hatch by themselves: the chance is spread evenly, so that few
	// honest sheets are doubted.
	doubted := 0
	for range 1000 {
		groups := make([][]stat.Count, 4)
		for k := range groups {
			for range 4 {
				x := 0
				for range 10 {
					if r.Float64() < 0.2+0.15*float64(k) {
						x++
					}
				}
				groups[k] = append(groups[k], stat.Count{Hatched: x, Eggs: 10})
			}
		}
		if AgreementChance(groups, 400, r) < 0.01 {
			doubted++
		}
	}
	if doubted > 20 {
		t.Errorf("%d of 1000 honest sheets are doubted at one in a hundred", doubted)
	}
}

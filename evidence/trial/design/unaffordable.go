package design

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence/trial/factorial"
)

// Unaffordable reports that the dishes or eggs at hand do not carry a trial
// that could be analysed.
type Unaffordable struct {
	Treatments              int
	NeedDishes, NeedEggs    int
	HaveDishes, HaveEggs    int
	EggsPerDish, KeptBack   int
	LotTakes, LargestLot    int // the fewest eggs that one of several lots or clutches must give, and what the largest can give; 0 for a single one
	Factors                 []factor
	afterDroppingLastFactor int // treatments that would be left
}

// Error says what is needed, what is there and what would make it fit.
func (u *Unaffordable) Error() string {
	msg := fmt.Sprintf("%d treatments need %d dishes and %d eggs (%d dishes each, %d eggs a dish), but there are %d dishes and %d eggs",
		u.Treatments, u.NeedDishes, u.NeedEggs, u.NeedDishes/u.Treatments, u.EggsPerDish, u.HaveDishes, u.HaveEggs)
	if u.KeptBack > 0 {
		msg += fmt.Sprintf(" (%d more are kept back)", u.KeptBack)
	}
	var hints []string
	if n := len(u.Factors); n > 1 {
		hints = append(hints, fmt.Sprintf("drop the factor %s (%d dishes and %d eggs then do)", u.Factors[n-1].ID,
			u.NeedDishes*u.afterDroppingLastFactor/u.Treatments, u.NeedEggs*u.afterDroppingLastFactor/u.Treatments))
	}
	if i := slices.IndexFunc(u.Factors, func(f factor) bool { return len(f.Levels) > 2 }); i >= 0 {
		hints = append(hints, fmt.Sprintf("give %s fewer levels", u.Factors[i].ID))
	}
	if u.HaveDishes < u.NeedDishes {
		hints = append(hints, fmt.Sprintf("allow %d dishes", u.NeedDishes))
	}
	if u.HaveEggs < u.NeedEggs {
		if fit := u.HaveEggs / u.NeedDishes; fit >= fewestEggsADish && fit < u.EggsPerDish {
			hints = append(hints, fmt.Sprintf("set %d eggs a dish", fit))
		} else {
			hints = append(hints, fmt.Sprintf("find %d more eggs", u.NeedEggs-u.HaveEggs))
		}
	}
	if u.LotTakes > u.LargestLot {
		hints = append(hints, fmt.Sprintf("pool lots or clutches (%d eggs of one of them are the fewest that tell anything here, and the largest gives %d)", u.LotTakes, u.LargestLot))
	}
	return msg + ": " + strings.Join(hints, ", or ")
}

func (s *settled) unaffordable(factors []factor) error {
	n := factorial.Count(plain(factors))
	u := &Unaffordable{Treatments: n, NeedDishes: s.fewestSets() * n, HaveDishes: s.Dishes,
		HaveEggs: s.Eggs - s.kept, KeptBack: s.kept, EggsPerDish: s.leastEggsADish(), Factors: factors}
	u.NeedEggs = u.NeedDishes * u.EggsPerDish
	if len(s.Lots) > 1 {
		u.LargestLot, u.LotTakes = slices.Max(s.eggsOfLots()), fewestInBlock*u.EggsPerDish
		if factorial.Split(plain(factors)) { // then each must hold every treatment
			u.LotTakes = n * u.EggsPerDish
		}
	}
	if k := len(factors); k > 1 {
		u.afterDroppingLastFactor = factorial.Count(plain(factors[:k-1]))
	}
	return u
}

package verdict

import (
	"math"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/spread"
)

// fewHatch is the fraction under which a level counts as not hatching: part of
// a clutch, or a slip of handling, may hatch anywhere (common practice, no source).
const fewHatch = 0.05

// worth is how many independent eggs dishes of the given size are worth, with
// the given correlation within them.
func worth(all stat.Count, each int, rho float64) stat.Count {
	eggs := max(1, int(float64(all.Eggs)/spread.DesignEffect(each, rho)))
	return stat.Count{Hatched: min(eggs, int(math.Round(all.Fraction()*float64(eggs)))), Eggs: eggs}
}

// likeness is the correlation of eggs within dishes that the counts show, by the
// squares of the dishes about the fraction of their treatment (moments): what is
// beyond those of independent eggs, over what it would be if dishes were all or
// nothing. It is 0 where dishes differ no more than that.
func likeness(counts []stat.Count, cells []int) float64 {
	type sums struct {
		stat.Count
		dishes int
	}
	var cell []sums
	for k, n := range counts {
		for len(cell) <= cells[k] {
			cell = append(cell, sums{})
		}
		s := &cell[cells[k]]
		s.Hatched, s.Eggs, s.dishes = s.Hatched+n.Hatched, s.Eggs+n.Eggs, s.dishes+1
	}
	var seen, independent, most float64
	for k, n := range counts {
		s := cell[cells[k]]
		if s.dishes < 2 {
			continue
		}
		p, eggs := s.Fraction(), float64(n.Eggs)
		d := float64(n.Hatched) - eggs*p
		seen += d * d * float64(s.dishes) / float64(s.dishes-1)
		independent += eggs * p * (1 - p)
		most += eggs * (eggs - 1) * p * (1 - p)
	}
	if most == 0 {
		return 0
	}
	return min(1, max(0, (seen-independent)/most))
}

// SomeHatch reports whether an interval of the hatched fraction says that the
// level hatches eggs.
func SomeHatch(i stat.Interval) bool { return i.Low > fewHatch }

// NoneHatch reports whether it says that the level hatches next to none.
func NoneHatch(i stat.Interval) bool { return i.High < 3*fewHatch }

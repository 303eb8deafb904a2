package bench

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"hatchlore/evidence/trial"
)

// span is a stretch of days, both ends included.
type span struct{ from, to trial.Day }

func (a span) meets(b span) bool { return !a.to.Before(b.from) && !b.to.Before(a.from) }

func (a span) join(b span) span {
	if a.from.IsZero() {
		return b
	}
	if b.from.Before(a.from) {
		a.from = b.from
	}
	if a.to.Before(b.to) {
		a.to = b.to
	}
	return a
}

// chilled is the dishes of one chamber run that spend their cold-moist period
// at one temperature: they lie in one place.
type chilled struct {
	run         int // from 1
	temperature float64
	dishes      []int // indices
	span
	place string
}

// stay is a place standing at a temperature for a time.
type stay struct {
	place       string
	temperature float64
	span
}

const refrigeratorAssumed = "there is a refrigerator for the cold-moist period beside the chambers named"

// findCold gives every dish the place of its cold-moist period: the refrigerator
// where it can stand at the temperature, else a chamber that is not needed at
// another one in that time. It returns what could not be placed.
func (s *scheduler) findCold() (warnings []string) {
	if len(s.Chambers) == 0 {
		return nil
	}
	places := append([]trial.Chamber{trial.Refrigerator()}, named(s.Chambers)...)
	taken := s.incubations()
	groups := s.chilledDishes()
	for k := range groups {
		g := &groups[k]
		if g.place = g.choose(places, taken); g.place == "" {
			at := trial.Num(g.temperature).In("degC")
			s.plan.Runs[g.run-1].Cold = "another place at " + at // one will have to do for all runs
			warning := fmt.Sprintf("no place is free to hold dishes at %s from %s to %s: another refrigerator or chamber is needed for them", at, g.from, g.to)
			if !slices.Contains(warnings, warning) {
				warnings = append(warnings, warning)
			}
			continue
		}
		if g.place == places[0].Name && !slices.Contains(s.assumed, refrigeratorAssumed) {
			s.assumed = append(s.assumed, refrigeratorAssumed)
		}
		s.plan.Runs[g.run-1].Cold = g.place
		taken = append(taken, stay{g.place, g.temperature, g.span})
		for _, i := range g.dishes {
			s.recipes[i].cold = g.place
		}
	}
	return warnings
}

// choose returns the name of the first place that can hold the dishes, one that
// holds no others at their temperature before one that does.
func (g chilled) choose(places []trial.Chamber, taken []stay) string {
	best, fewest := "", math.MaxInt
	for _, c := range places {
		clash, shared := false, 0
		for _, t := range taken {
			if t.place != c.Name || !t.meets(g.span) {
				continue
			}
			if math.Abs(t.temperature-g.temperature) > trial.ChamberSlack {
				clash = true
			}
			shared++
		}
		if c.Holds(g.temperature) && !clash && shared < fewest {
			best, fewest = c.Name, shared
		}
	}
	return best
}

// chilledDishes groups the dishes that have a cold-moist period, those nearest
// to a refrigerator's usual temperature first.
func (s *scheduler) chilledDishes() []chilled {
	var out []chilled
	for i, r := range s.recipes {
		if r.coldDays() == 0 {
			continue
		}
		d := s.plan.Dishes[i]
		t := r.coldTemp().Number
		k := slices.IndexFunc(out, func(g chilled) bool { return g.run == d.Run && g.temperature == t })
		if k < 0 {
			k = len(out)
			out = append(out, chilled{run: d.Run, temperature: t})
		}
		step := slices.IndexFunc(d.Steps, func(s trial.Step) bool { return s.Act == trial.ActChill })
		from := d.Steps[step].Date
		out[k].dishes = append(out[k].dishes, i)
		out[k].span = out[k].join(span{from, from.Add(r.coldDays() + r.extra[trial.ActChill])})
	}
	slices.SortStableFunc(out, func(a, b chilled) int {
		return cmp.Compare(math.Abs(a.temperature-defaultColdTemp), math.Abs(b.temperature-defaultColdTemp))
	})
	return out
}

// incubations are the chambers as the runs take them up, from the day on which
// the first dish comes to the last look.
func (s *scheduler) incubations() []stay {
	var out []stay
	for _, run := range s.plan.Runs {
		at := stay{place: run.Chamber, temperature: run.Temperature}
		for _, d := range s.plan.Dishes {
			if d.Run != run.Run {
				continue
			}
			move := slices.IndexFunc(d.Steps, func(s trial.Step) bool { return s.Act == trial.ActMove })
			at.span = at.join(span{d.Steps[move].Date, d.Steps[len(d.Steps)-1].Date})
		}
		out = append(out, at)
	}
	return out
}

// named gives chambers without a name the one that plans use.
func named(chambers []trial.Chamber) []trial.Chamber {
	out := slices.Clone(chambers)
	for i := range out {
		out[i].Name = out[i].Title(i)
	}
	return out
}

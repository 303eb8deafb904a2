package odds

import (
	"slices"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
)

// Settle works out, for every question that the trial takes up, the chance that
// the verdict is for the right side. The level of the intervals is shared out
// over the questions, as the analysis will do.
//
// Where both sides hatch eggs at different levels, the right side is the one
// whose level hatches more by the smallest difference. Where one side says that
// a treatment is needed and the other that it is not, the chance is the mean of
// two: that a real difference is found, and that a missing one is ruled out.
// Where one side says that a level hatches none, it is the mean of seeing that
// it hatches, if it does at the base fraction, and of seeing that it does not.
func (a *Arena) Settle(asked []trial.Question) ([]trial.Settles, error) {
	var out []trial.Settles
	for _, q := range asked {
		chance, err := a.chance(q, 0.05/float64(len(asked)))
		if err != nil {
			return nil, err
		}
		out = append(out, trial.Settles{Conflict: q.ID, Chance: round3(chance)})
	}
	return out, nil
}

func (a *Arena) chance(q trial.Question, alpha float64) (float64, error) {
	i := slices.IndexFunc(a.factors, func(f trial.Factor) bool { return slices.Contains(f.Conflicts, q.ID) })
	sides := q.Sides(a.factors[i])
	switch {
	case q.Kind == trial.KindNeed:
		from, to := a.factors[i].NeedGroups()
		c, err := a.finds(i, from, to, alpha)
		return (c.right + c.ruledOut) / 2, err
	case trial.Outright(sides):
		return a.seesHatch(i, sides, alpha)
	}
	var from, to []trial.Setting
	for _, s := range sides {
		if len(from) == 0 {
			from = s.Levels
		} else if len(to) == 0 {
			to = s.Levels
		}
	}
	if len(from) == 0 || len(to) == 0 {
		return 0, nil // a side has no level in this layout
	}
	c, err := a.finds(i, from, to, alpha)
	return c.right, err
}

// oneRun reports whether factor i is set for chamber runs and each of its
// settings has a single one: that none hatched there may be the chamber's doing.
func (a *Arena) oneRun(i int) bool {
	return a.factors[i].WholePlot && len(a.plots) == slices.Max(a.plots)+1
}

// seesHatch simulates the verdict on sides that say a level hatches some or
// none, for the level with fewest dishes.
func (a *Arena) seesHatch(i int, sides []trial.Side, alpha float64) (float64, error) {
	fewest := len(a.dishes)
	for _, s := range sides {
		n := 0
		for _, at := range a.dishes {
			if slices.Contains(s.Levels, a.treatments[at.Treatment].Settings[i]) {
				n++
			}
		}
		fewest = min(fewest, n)
	}
	if fewest == 0 {
		return 0, nil
	}
	r := a.generator(i)
	judge := func(hatched int) stat.Interval {
		return trial.DishInterval(stat.Count{Hatched: hatched, Eggs: fewest * a.eggsPerDish}, a.eggsPerDish, a.rho, 1-alpha)
	}
	seen := 0
	for range a.trials {
		hatched := 0
		for range fewest {
			hatched += a.low.Draw(r)
		}
		if trial.SomeHatch(judge(hatched)) {
			seen++
		}
	}
	chance := float64(seen) / float64(a.trials)
	if trial.NoneHatch(judge(0)) && !a.oneRun(i) {
		return (chance + 1) / 2, nil
	}
	return chance / 2, nil
}

// Asked returns the questions for which the layout has a factor.
func (a *Arena) Asked(questions []trial.Question) []trial.Question {
	var out []trial.Question
	for _, q := range questions {
		if slices.ContainsFunc(a.factors, func(f trial.Factor) bool { return slices.Contains(f.Conflicts, q.ID) }) {
			out = append(out, q)
		}
	}
	return out
}

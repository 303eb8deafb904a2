package trial

import (
	"slices"
)

// settle works out, for every question that the trial takes up, the chance that
// its interval decides for the right side. The level of the test is shared out
// over the questions, as the analysis will do.
//
// Where the sides stand at different levels, the right side is the one whose
// level hatches more by the smallest difference. Where one side says that a
// treatment is needed and the other that it is not, the chance is the mean of
// two: that a real difference is found, and that a missing one is ruled out.
func (a *arena) settle(asked []Question) ([]Settles, error) {
	var out []Settles
	for _, q := range asked {
		i := slices.IndexFunc(a.factors, func(f Factor) bool { return slices.Contains(f.Conflicts, q.ID) })
		from, to := q.groups(a.factors[i])
		c, err := a.finds(i, from, to, 0.05/float64(len(asked)))
		if err != nil {
			return nil, err
		}
		chance := c.right
		if q.Kind == KindNeed {
			chance = (c.right + c.ruledOut) / 2
		}
		out = append(out, Settles{q.ID, round3(chance)})
	}
	return out, nil
}

// asked returns the questions for which the layout has a factor.
func (a *arena) asked(questions []Question) []Question {
	var out []Question
	for _, q := range questions {
		if slices.ContainsFunc(a.factors, func(f Factor) bool { return slices.Contains(f.Conflicts, q.ID) }) {
			out = append(out, q)
		}
	}
	return out
}

// groups returns the levels of the design on which the first two sides of q
// stand, or untreated and treated where the question is of need. Sides that the
// design holds no two levels of are stood for by its outermost levels.
func (q Question) groups(f Factor) (from, to []Setting) {
	if q.Kind == KindNeed {
		return f.Levels[:1], f.Levels[1:]
	}
	sides := slices.DeleteFunc(q.sides(f), func(s side) bool { return len(s.levels) == 0 })
	if len(sides) < 2 || slices.Equal(sides[0].levels, sides[1].levels) {
		return f.Levels[:1], f.Levels[len(f.Levels)-1:]
	}
	return sides[0].levels, sides[1].levels
}

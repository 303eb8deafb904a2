package odds

import (
	"math"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/verdict"
)

// Powers returns the power of each level of each factor against its first.
func (a *Arena) Powers() ([]trial.Power, error) {
	var out []trial.Power
	for i, f := range a.plan.Factors {
		untestable := !a.plan.Testable(f)
		for _, to := range f.Levels[1:] {
			found, err := a.finds(i, f.Levels[0], to)
			if err != nil {
				return nil, err
			}
			out = append(out, trial.Power{Factor: f.ID, From: f.Levels[0], To: to, Difference: math.Abs(a.shifted - a.base), Power: round3(found), Untestable: untestable})
		}
	}
	return out, nil
}

// Ends returns the power of the last level of factor i against its first.
func (a *Arena) Ends(i int) (float64, error) {
	levels := a.plan.Factors[i].Levels
	return a.finds(i, levels[0], levels[len(levels)-1])
}

// finds is the chance that a difference between two levels of factor i is found,
// at 95 % and in the right direction.
func (a *Arena) finds(i int, from, to trial.Setting) (float64, error) {
	if !a.plan.Testable(a.plan.Factors[i]) {
		return 0, nil
	}
	one, other := []trial.Setting{from}, []trial.Setting{to}
	w := func(s trial.Setting) float64 {
		if s == to {
			return a.shifted
		}
		return a.base
	}
	return a.simulate(i, w, func(c verdict.Case) bool {
		d := c.ContrastAt(i, one, other, 0.95)
		return d.Tested && (a.shifted > a.base && d.Interval.Low > 1e-9 || a.shifted < a.base && d.Interval.High < -1e-9)
	})
}

// Settle works out, for every question of the plan, the chance that a side gets
// its due: the mean over the sides of the chance that the judge calls a side
// supported where it is right. The level of the intervals is shared out over the
// questions, as the analysis will do.
func (a *Arena) Settle() ([]trial.Settles, error) {
	out := []trial.Settles{}
	for _, q := range a.plan.Questions {
		i := a.plan.FactorOf(q)
		sides := q.Sides(a.plan.Factors[i])
		settles, sum := trial.Settles{Conflict: q.ID}, 0.0
		for k, s := range sides {
			chance := 0.0
			if len(s.Levels) > 0 || q.Kind == trial.KindNeed { // else it has no level in this layout
				var err error
				if chance, err = a.rightly(q, i, sides, k); err != nil {
					return nil, err
				}
			}
			sum += chance
			settles.Sides = append(settles.Sides, trial.SideChance{Side: verdict.SideName(q, sides, k), Number: s.Number, Chance: round3(chance)})
		}
		settles.Chance = round3(sum / float64(max(1, len(sides))))
		out = append(out, settles)
	}
	return out, nil
}

// rightly is the chance that side k of question q, about factor i, is called
// supported where it is right.
func (a *Arena) rightly(q trial.Question, i int, sides []trial.Side, k int) (float64, error) {
	return a.simulate(i, a.worldOf(q, i, sides, sides[k]), func(c verdict.Case) bool {
		return c.Rule(q, i, sides)[k] == verdict.Supported
	})
}

// worldOf is the world in which side s of question q, about factor i, is right.
//
// Where the sides hatch eggs at different levels, its level hatches more than
// the others by the smallest difference. A treatment that is required makes eggs
// hatch at the base fraction, and none hatch without; one that is helpful or
// harmful changes the fraction by the smallest difference; one that is not required
// or tolerated changes nothing. A level said to hatch none hatches none, and all
// others hatch at the base fraction.
func (a *Arena) worldOf(q trial.Question, i int, sides []trial.Side, s trial.Side) world {
	low, high := min(a.base, a.shifted), max(a.base, a.shifted)
	bare, _ := a.plan.Factors[i].NeedGroups(sides)
	own := s.Levels
	at := func(levels []trial.Setting, there, elsewhere float64) world {
		return func(l trial.Setting) float64 {
			if slices.Contains(levels, l) {
				return there
			}
			return elsewhere
		}
	}
	switch {
	case q.Kind == trial.KindNeed && s.Need == "required":
		return at(bare, 0, a.base)
	case q.Kind == trial.KindNeed && s.Need == "helpful":
		return at(bare, low, high)
	case q.Kind == trial.KindNeed && s.Need == "harmful":
		return at(bare, high, low)
	case q.Kind == trial.KindNeed:
		return at(nil, a.base, a.base)
	case trial.Outright(sides) && s.Bearing == evidence.Prevents:
		return at(own, 0, a.base)
	case trial.Outright(sides):
		return at(nil, a.base, a.base)
	}
	return at(own, high, low)
}

func round3(x float64) float64 { return math.Round(1000*x) / 1000 }

package outcome

import (
	"fmt"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
)

// Verdict says what the counts make of one side of a question.
type Verdict struct {
	Conflict string `json:"conflict"`
	Side     string `json:"side"`    // the side's levels in words
	Number   int    `json:"number"`  // the side's number in the question
	Verdict  string `json:"verdict"` // supported, contradicted, undecided
	Why      string `json:"why"`
}

// Verdicts.
const (
	Supported    = "supported"
	Contradicted = "contradicted"
	Undecided    = "undecided"
)

// judge adds the verdicts. The intervals are shared out over the questions as
// those of the plan's chances are.
func (r *Result) judge(p *trial.Plan, dishes []counts.Dish) {
	if len(p.Questions) == 0 {
		return
	}
	j := newJudge(p, dishes, r.tooAlike)
	for _, q := range p.Questions {
		i := slices.IndexFunc(p.Factors, func(f trial.Factor) bool { return slices.Contains(f.Conflicts, q.ID) })
		if i < 0 {
			continue
		}
		r.Verdicts = append(r.Verdicts, j.question(q, i)...)
	}
}

// newJudge judges at 95 %, shared out over the questions.
func newJudge(p *trial.Plan, dishes []counts.Dish, tooAlike bool) judge {
	return judge{p: p, dishes: dishes, level: 1 - 0.05/float64(max(1, len(p.Questions))), tooAlike: tooAlike}
}

type judge struct {
	p        *trial.Plan
	dishes   []counts.Dish
	level    float64 // of the intervals
	tooAlike bool    // the dishes agree more closely than eggs can
}

func (j judge) question(q trial.Question, i int) []Verdict {
	f := j.p.Factors[i]
	var out []Verdict
	say := func(s trial.Side, verdict, why string) {
		out = append(out, Verdict{Conflict: q.ID, Side: s.Words, Number: s.Number, Verdict: verdict, Why: why})
	}
	sides := q.Sides(f)
	switch {
	case q.Kind == trial.KindNeed:
		for i, s := range sides {
			if s.Need != s.Words { // two sides may stand at one level
				sides[i].Words = s.Need + " (" + s.Words + ")"
			}
		}
		from, to := f.NeedGroups()
		c := j.contrast(i, from, to)
		bare := j.fraction(i, from)
		for _, s := range sides {
			v, why := j.need(s, c, bare)
			say(s, v, why)
		}
	case trial.Outright(sides):
		for _, s := range sides {
			v, why := j.outright(s, j.fraction(i, s.Levels), f.WholePlot && j.p.OneRun())
			say(s, v, why)
		}
	default:
		for _, s := range sides {
			var others []trial.Setting
			for _, o := range sides {
				if o.Number != s.Number {
					others = append(others, o.Levels...)
				}
			}
			v, why := j.better(j.contrast(i, others, s.Levels))
			say(s, v, why)
		}
	}
	return out
}

// need judges a side that calls a treatment required, helpful, harmful or not
// required by the gain c of the treated and the fraction of the bare eggs.
func (j judge) need(s trial.Side, c contrast, bare stat.Interval) (verdict, why string) {
	why = fmt.Sprintf("treated less untreated: %s; untreated hatched %s", c.words(), percentSpan(bare))
	if !c.tested {
		return Undecided, why
	}
	gain, loss := c.interval.Low > 0, c.interval.High < 0
	noGain, noLoss := c.interval.High < j.p.Odds.Difference, c.interval.Low > -j.p.Odds.Difference
	alone, few := trial.SomeHatch(bare), trial.NoneHatch(bare)
	switch s.Need {
	case "required":
		return pick(gain && few, alone || noGain), why
	case "helpful":
		return pick(gain, noGain), why
	case "harmful":
		return pick(loss, gain || noLoss), why
	case "tolerated":
		return pick(noLoss, loss), why
	default: // not-required
		return pick(alone || (noGain && !few), gain && few), why
	}
}

// outright judges a side that says eggs hatch, or do not, at its own level. Of a
// temperature with one chamber run only hatching is believed: where none
// hatched, the chamber may have failed.
func (j judge) outright(s trial.Side, hatched stat.Interval, oneRun bool) (verdict, why string) {
	why = fmt.Sprintf("at %s hatched %s", s.Words, percentSpan(hatched))
	if len(s.Levels) == 0 {
		return Undecided, "its level is not in the trial"
	}
	some, none := trial.SomeHatch(hatched), trial.NoneHatch(hatched)
	if none && oneRun {
		return Undecided, why + ", in one chamber run only: the chamber may have failed"
	}
	if s.Bearing == evidence.Prevents {
		return pick(none, some), why
	}
	return pick(some, none), why
}

// better judges a side by whether its levels hatch more than the other's.
func (j judge) better(c contrast) (verdict, why string) {
	why = "its levels less the other side's: " + c.words()
	if !c.tested {
		return Undecided, why
	}
	d := j.p.Odds.Difference
	if c.interval.Low > -d && c.interval.High < d {
		return Undecided, why + ": both hatch alike, within the smallest difference worth finding"
	}
	return pick(c.interval.Low > 0, c.interval.High < 0), why
}

func pick(supported, contradicted bool) string {
	switch {
	case supported && !contradicted:
		return Supported
	case contradicted && !supported:
		return Contradicted
	}
	return Undecided
}

// fraction returns the interval of the hatched fraction at levels of factor i,
// with as many eggs as their spread over dishes leaves independent. The added
// control counts where its setting is among the levels.
func (j judge) fraction(i int, levels []trial.Setting) stat.Interval {
	all, dishes := j.count(i, levels)
	if dishes == 0 {
		return stat.Interval{Low: 0, High: 1}
	}
	return trial.DishInterval(all, all.Eggs/dishes, j.p.Odds.Rho, j.level)
}

// count sums the dishes at levels of factor i.
func (j judge) count(i int, levels []trial.Setting) (all stat.Count, dishes int) {
	for _, d := range j.dishes {
		if slices.Contains(levels, d.Levels[i]) {
			dishes++
			all.Hatched += d.Hatched
			all.Eggs += d.Eggs
		}
	}
	return all, dishes
}

func percentSpan(i stat.Interval) string {
	return fmt.Sprintf("%.0f to %.0f %%", 100*i.Low, 100*i.High)
}

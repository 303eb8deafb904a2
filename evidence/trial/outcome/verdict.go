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
	sides := q.Sides(j.p.Factors[i])
	judged := j.apart
	switch {
	case q.Kind == trial.KindNeed:
		judged = j.needed
	case trial.Outright(sides):
		judged = j.outright
	}
	out := judged(i, sides)
	for k := range out {
		out[k].Conflict, out[k].Side, out[k].Number = q.ID, nameOf(sides, k), sides[k].Number
	}
	return out
}

// nameOf names a side by its levels, and by what they did where another side
// stands at the same.
func nameOf(sides []trial.Side, k int) string {
	for i, other := range sides {
		if i != k && other.Words == sides[k].Words {
			return sides[k].Words + ", " + string(sides[k].Bearing)
		}
	}
	return sides[k].Words
}

// needed judges sides that call a treatment required, helpful, harmful or not
// required by the gain of the treated and the fraction of the bare eggs.
func (j judge) needed(i int, sides []trial.Side) []Verdict {
	from, to := j.p.Factors[i].NeedGroups()
	gain := j.contrast(i, from, to)
	bare, treated := j.fraction(i, from), j.fraction(i, to)
	why := fmt.Sprintf("treated less untreated: %s; untreated hatched %s", gain.words(), percentSpan(bare))
	barren := trial.NoneHatch(bare) && trial.NoneHatch(treated)
	if barren {
		why += "; hardly any hatched in either, so there was nothing to compare"
	}
	var out []Verdict
	for k, s := range sides {
		if s.Need != s.Words { // two sides may stand at one level
			sides[k].Words = s.Need + " (" + s.Words + ")"
		}
		v := Undecided
		if gain.tested && !barren {
			v = j.need(s.Need, gain.interval, bare)
		}
		out = append(out, Verdict{Verdict: v, Why: why})
	}
	return out
}

// need judges one side. That a treatment neither gains nor loses much says
// something only where untreated eggs hatch: of none there is none to lose.
func (j judge) need(side string, gain, bare stat.Interval) string {
	gains, loses := gain.Low > 0, gain.High < 0
	alone, few := trial.SomeHatch(bare), trial.NoneHatch(bare)
	noGain, noLoss := gain.High < j.p.Odds.Difference && !few, gain.Low > -j.p.Odds.Difference && !few
	switch side {
	case "required":
		return pick(gains && few, alone || noGain)
	case "helpful":
		return pick(gains, noGain)
	case "harmful":
		return pick(loses, gains || noLoss)
	case "tolerated":
		return pick(noLoss, loses)
	default: // not-required
		return pick(alone || noGain, gains && few)
	}
}

// outright judges sides that say eggs hatch, or do not, at their own levels.
// That none hatched is believed where eggs hatched at other levels, and not of a
// temperature with one chamber run: the eggs may have been dead, the chamber may
// have failed.
func (j judge) outright(i int, sides []trial.Side) []Verdict {
	f := j.p.Factors[i]
	var out []Verdict
	for _, s := range sides {
		hatched := j.fraction(i, s.Levels)
		why := fmt.Sprintf("at %s hatched %s", s.Words, percentSpan(hatched))
		some, none := trial.SomeHatch(hatched), trial.NoneHatch(hatched)
		v := pick(some, none)
		if s.Bearing == evidence.Prevents {
			v = pick(none, some)
		}
		switch {
		case len(s.Levels) == 0:
			v, why = Undecided, "its level is not in the trial"
		case none && f.WholePlot && j.p.OneRun():
			v, why = Undecided, why+", in one chamber run only: the chamber may have failed"
		case none && !j.hatchesElsewhere(i, s.Levels):
			v, why = Undecided, why+", but hardly any hatched at its other levels either: the eggs may be dead or lack something else"
		}
		out = append(out, Verdict{Verdict: v, Why: why})
	}
	return out
}

// hatchesElsewhere reports whether eggs hatched for sure at levels of factor i
// other than these.
func (j judge) hatchesElsewhere(i int, levels []trial.Setting) bool {
	others := slices.DeleteFunc(reportLevels(j.p.Factors[i]), func(l trial.Setting) bool { return slices.Contains(levels, l) })
	return trial.SomeHatch(j.fraction(i, others))
}

// apart judges each side by whether its levels hatch more than the others'.
func (j judge) apart(i int, sides []trial.Side) []Verdict {
	var out []Verdict
	for _, s := range sides {
		var others []trial.Setting
		for _, o := range sides {
			if o.Number != s.Number {
				others = append(others, o.Levels...)
			}
		}
		v, why := j.better(j.contrast(i, others, s.Levels))
		out = append(out, Verdict{Verdict: v, Why: why})
	}
	return out
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

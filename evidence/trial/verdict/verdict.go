package verdict

import (
	"fmt"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
	"hatchlore/evidence/trial"
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

// Verdicts judges every side of the questions that the trial takes up.
func (c Case) Verdicts() []Verdict {
	out := []Verdict{}
	for _, q := range c.plan.Questions {
		i := c.plan.FactorOf(q)
		if i < 0 {
			continue
		}
		sides := q.Sides(c.plan.Factors[i])
		for k, r := range c.rule(q, i, sides) {
			out = append(out, Verdict{Conflict: q.ID, Side: SideName(q, sides, k), Number: sides[k].Number, Verdict: r.verdict, Why: r.why()})
		}
	}
	return out
}

// Rule judges the sides of one question about factor i, without giving reasons.
func (c Case) Rule(q trial.Question, i int, sides []trial.Side) []string {
	var out []string
	for _, r := range c.rule(q, i, sides) {
		out = append(out, r.verdict)
	}
	return out
}

// ruling is a verdict with its reason, put into words when somebody asks.
type ruling struct {
	verdict string
	why     func() string
}

// untried is the ruling on a side of which the trial has no level, uncounted on one
// of whose level no dish was counted.
var (
	untried   = ruling{Undecided, func() string { return "its level is not in the trial" }}
	uncounted = ruling{Undecided, func() string { return "no dish at its level was counted" }}
)

func (c Case) rule(q trial.Question, i int, sides []trial.Side) []ruling {
	switch {
	case q.Kind == trial.KindNeed:
		return c.needed(i, sides)
	case trial.Outright(sides):
		return c.outright(i, sides)
	}
	return c.apart(i, sides)
}

// SideName names a side by its levels: with what it says of the need for a
// treatment, since two sides may stand at one level, else by what the levels did
// where another side stands at the same.
func SideName(q trial.Question, sides []trial.Side, k int) string {
	s := sides[k]
	if q.Kind == trial.KindNeed {
		if s.Need != s.Words {
			return s.Need + " (" + s.Words + ")"
		}
		return s.Words
	}
	for i, other := range sides {
		if i != k && other.Words == s.Words {
			return s.Words + ", " + string(s.Bearing)
		}
	}
	return s.Words
}

// needed judges sides that call a treatment required, helpful, harmful or not
// required by the gain of eggs so treated and the fraction of the bare ones.
func (c Case) needed(i int, sides []trial.Side) []ruling {
	from, to := c.plan.Factors[i].NeedGroups(sides)
	if len(from) == 0 || len(to) == 0 {
		return slices.Repeat([]ruling{untried}, len(sides))
	}
	gain := c.Contrast(i, from, to)
	bare, treated := c.Fraction(i, from), c.Fraction(i, to)
	barren := NoneHatch(bare) && NoneHatch(treated)
	var out []ruling
	for _, s := range sides {
		v := Undecided
		if gain.Tested && !barren {
			v = c.need(s.Need, gain.Interval, bare)
		}
		out = append(out, ruling{verdict: v})
	}
	why := func() string {
		words := fmt.Sprintf("treated less untreated: %s; untreated hatched %s", gain.words(), percentSpan(bare))
		if barren {
			return words + "; hardly any hatched in either, so there was nothing to compare"
		}
		if slices.ContainsFunc(out, func(r ruling) bool { return r.verdict == Undecided }) {
			words += c.wouldDo(gain) + c.wouldTell("untreated", i, from)
		}
		return words
	}
	for k := range out {
		out[k].why = why
	}
	return out
}

// need judges one side. That a treatment neither gains nor loses much says
// something only where untreated eggs hatch: of none there is none to lose.
func (j *Judge) need(side string, gain, bare stat.Interval) string {
	gains, loses := gain.Low > 0, gain.High < 0
	alone, few := SomeHatch(bare), NoneHatch(bare)
	noGain, noLoss := gain.High < j.plan.Odds.Difference && !few, gain.Low > -j.plan.Odds.Difference && !few
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
// temperature that stood in one chamber: the eggs may have been dead, the chamber
// may have failed.
func (c Case) outright(i int, sides []trial.Side) []ruling {
	f := c.plan.Factors[i]
	var out []ruling
	for _, s := range sides {
		if len(s.Levels) == 0 {
			out = append(out, untried)
			continue
		}
		if _, dishes := c.Count(i, s.Levels); dishes == 0 {
			out = append(out, uncounted)
			continue
		}
		hatched := c.Fraction(i, s.Levels)
		some, none := SomeHatch(hatched), NoneHatch(hatched)
		v, but := pick(some, none), ""
		if s.Bearing == evidence.Prevents {
			v = pick(none, some)
		}
		switch {
		case none && c.plan.OnePlace(f, s.Levels):
			v, but = Undecided, ", in one chamber only: the chamber may have failed"
		case none && !c.HatchesElsewhere(i, s.Levels):
			v, but = Undecided, ", but hardly any hatched at its other levels either: the eggs may be dead or lack something else"
		}
		out = append(out, ruling{v, func() string {
			return fmt.Sprintf("at %s hatched %s", s.Words, percentSpan(hatched)) + but + c.wouldTell("there", i, s.Levels)
		}})
	}
	return out
}

// apart judges each side by whether its levels hatch more than the others'. Two
// sides are one comparison; of more, each has its own and a smaller share of the
// chance of error.
func (c Case) apart(i int, sides []trial.Side) []ruling {
	tried := 0
	for _, s := range sides {
		if len(s.Levels) > 0 {
			tried++
		}
	}
	level := 1 - (1-c.level)*2/float64(max(2, tried))
	than := "its levels less the other side's: "
	if tried > 2 {
		than = "its levels less the others', taken together: "
	}
	var out []ruling
	for _, s := range sides {
		if len(s.Levels) == 0 {
			out = append(out, untried)
			continue
		}
		out = append(out, c.better(than, c.ContrastAt(i, others(sides, s), s.Levels, level)))
	}
	return out
}

// others are the levels of the sides other than s, each once, that s does not share.
func others(sides []trial.Side, s trial.Side) (levels []trial.Setting) {
	for _, o := range sides {
		for _, l := range o.Levels {
			if !slices.Contains(s.Levels, l) && !slices.Contains(levels, l) {
				levels = append(levels, l)
			}
		}
	}
	return levels
}

// better judges a side by whether its levels hatch more than those it is set against.
func (c Case) better(than string, d Contrast) ruling {
	words := func() string { return than + d.words() }
	if !d.Tested {
		return ruling{Undecided, words}
	}
	worth := c.plan.Odds.Difference
	if d.Interval.Low > -worth && d.Interval.High < worth {
		return ruling{Undecided, func() string { return words() + ": both hatch alike, within the smallest difference worth finding" }}
	}
	v := pick(d.Interval.Low > 0, d.Interval.High < 0)
	if v != Undecided {
		return ruling{v, words}
	}
	return ruling{v, func() string { return words() + c.wouldDo(d) }}
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

func percentSpan(i stat.Interval) string {
	return fmt.Sprintf("%.0f to %.0f %%", 100*i.Low, 100*i.High)
}

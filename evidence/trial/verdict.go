package trial

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/stat"
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

// fewHatch is the fraction under which a level counts as not hatching: part of
// a clutch, or a slip of handling, may hatch anywhere (common practice, no source).
const fewHatch = 0.05

// contrast is the difference of the hatched fraction between two groups of
// levels, by dishes, with its interval.
type contrast struct {
	difference float64
	interval   stat.Interval
	tested     bool // there was something to measure chance by
}

// judge adds the verdicts. The intervals are shared out over the questions as
// those of the plan's chances are.
func (r *Result) judge(p *Plan, dishes []dishCount) {
	if len(p.Questions) == 0 {
		return
	}
	level := 1 - 0.05/float64(len(p.Questions))
	j := judge{p: p, dishes: dishes, level: level}
	for _, q := range p.Questions {
		i := slices.IndexFunc(p.Factors, func(f Factor) bool { return slices.Contains(f.Conflicts, q.ID) })
		if i < 0 {
			continue
		}
		r.Verdicts = append(r.Verdicts, j.question(q, i)...)
	}
}

type judge struct {
	p      *Plan
	dishes []dishCount
	level  float64
}

// side is one side of a question with the levels of the design it stands on.
type side struct {
	number  int
	words   string
	levels  []Setting
	word    string // category, for a question of need
	bearing evidence.Bearing
}

func (q Question) sides(f Factor) []side {
	m, _ := evidence.MeasureOf(f.ID)
	own := !slices.ContainsFunc(q.Levels, func(l Level) bool { return l.Side > 0 })
	var out []side
	for i, l := range q.Levels {
		number := l.Side
		if own {
			number = i + 1
		}
		if number < 1 {
			continue
		}
		k := slices.IndexFunc(out, func(s side) bool { return s.number == number })
		if k < 0 {
			k = len(out)
			out = append(out, side{number: number, word: l.needWord(), bearing: l.Bearing})
		}
		set, err := l.setting(m)
		if err == nil && slices.Contains(f.Levels, set) && !slices.Contains(out[k].levels, set) {
			out[k].levels = append(out[k].levels, set)
		}
		words := cmp.Or(l.Label, l.Category)
		if words == "" && err == nil {
			words = set.In(f.Unit)
		}
		if !strings.Contains(out[k].words, words) {
			out[k].words = strings.TrimPrefix(out[k].words+", "+words, ", ")
		}
	}
	slices.SortStableFunc(out, func(a, b side) int { return a.number - b.number })
	return out
}

// needWord is what the level's side says of the need for a treatment.
func (l Level) needWord() string {
	switch l.Category {
	case "required", "helpful", "harmful", "tolerated", "not-required":
		return l.Category
	case "light-required":
		return "required"
	}
	switch l.Bearing {
	case evidence.Prevents:
		return "harmful"
	case evidence.Indifferent:
		return "not-required"
	}
	return "helpful"
}

// needGroups splits a factor's levels into the bare one and the treated.
func needGroups(f Factor) (from, to []Setting) {
	none, _ := bare(f.ID)
	i := max(0, slices.Index(f.Levels, none))
	return f.Levels[i : i+1], slices.Delete(slices.Clone(f.Levels), i, i+1)
}

// outright reports whether a side says that a level hatches none: such sides
// are judged by what hatched at their levels rather than by which hatched more.
func outright(sides []side) bool {
	return slices.ContainsFunc(sides, func(s side) bool { return s.bearing == evidence.Prevents })
}

func (j judge) question(q Question, i int) []Verdict {
	f := j.p.Factors[i]
	var out []Verdict
	say := func(s side, verdict, why string) {
		out = append(out, Verdict{Conflict: q.ID, Side: s.words, Number: s.number, Verdict: verdict, Why: why})
	}
	sides := q.sides(f)
	switch {
	case q.Kind == KindNeed:
		for i, s := range sides {
			if s.word != s.words { // two sides may stand at one level
				sides[i].words = s.word + " (" + s.words + ")"
			}
		}
		from, to := needGroups(f)
		c := j.contrast(i, from, to)
		bare := j.fraction(i, from)
		for _, s := range sides {
			v, why := j.need(s, c, bare)
			say(s, v, why)
		}
	case outright(sides):
		for _, s := range sides {
			v, why := j.outright(s, j.fraction(i, s.levels), f.WholePlot && j.p.oneRun())
			say(s, v, why)
		}
	default:
		for _, s := range sides {
			var others []Setting
			for _, o := range sides {
				if o.number != s.number {
					others = append(others, o.levels...)
				}
			}
			v, why := j.better(j.contrast(i, others, s.levels))
			say(s, v, why)
		}
	}
	return out
}

// need judges a side that calls a treatment required, helpful, harmful or not
// required by the gain c of the treated and the fraction of the bare eggs.
func (j judge) need(s side, c contrast, bare stat.Interval) (verdict, why string) {
	why = fmt.Sprintf("treated less untreated: %s; untreated hatched %s", c.words(), percentSpan(bare))
	if !c.tested {
		return Undecided, why
	}
	gain, loss := c.interval.Low > 0, c.interval.High < 0
	noGain, noLoss := c.interval.High < j.p.Odds.Difference, c.interval.Low > -j.p.Odds.Difference
	alone, few := someHatch(bare), noneHatch(bare)
	switch s.word {
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
func (j judge) outright(s side, hatched stat.Interval, oneRun bool) (verdict, why string) {
	why = fmt.Sprintf("at %s hatched %s", s.words, percentSpan(hatched))
	if len(s.levels) == 0 {
		return Undecided, "its level is not in the trial"
	}
	some, none := someHatch(hatched), noneHatch(hatched)
	if none && oneRun {
		return Undecided, why + ", in one chamber run only: the chamber may have failed"
	}
	if s.bearing == evidence.Prevents {
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

// oneRun reports whether every combination of chamber settings had a single run.
func (p *Plan) oneRun() bool {
	var runs []int
	for k := range p.Runs {
		runs = append(runs, k)
	}
	return len(stat.Levels(plotKeys(p, runs))) == len(runs)
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

// contrast compares two groups of levels of factor i by the dishes' fractions,
// over the treatments' means, against the spread of dishes treated alike; a
// chamber temperature against the spread of its runs.
func (j judge) contrast(i int, from, to []Setting) contrast {
	var y, w []float64
	var space *stat.ErrorSpace
	var err error
	if j.p.Factors[i].WholePlot {
		var runs []int
		runs, y = runMeans(j.p, j.dishes)
		w = groupWeights(runColumnSettings(j.p, runs, j.p.Factors[i].ID), nil, from, to)
		space, err = stat.NewErrorSpace(stat.Indicators(plotKeys(j.p, runs)))
	} else {
		var cells, runs, lots []string
		var settings []Setting
		for _, d := range j.dishes {
			y = append(y, float64(d.hatched)/float64(d.eggs))
			cells = append(cells, fmt.Sprint(d.control, d.levels))
			runs = append(runs, fmt.Sprint(j.p.Dishes[d.planned].Run))
			lots = append(lots, j.p.Dishes[d.planned].Lot)
			settings = append(settings, ownSetting(d.levels[i], d.control))
		}
		if w = groupWeights(settings, cells, from, to); j.p.Design.Kind == optimalSubset {
			w = j.effectWeights(i, from, to)
		}
		space, err = stat.NewErrorSpace(slices.Concat(stat.Indicators(cells), stat.Indicators(runs), stat.Indicators(lots)))
	}
	if err != nil || w == nil {
		return contrast{difference: math.NaN()}
	}
	c := contrast{difference: inner(w, y)}
	if space.DF() < 1 {
		return c
	}
	half := stat.StudentQuantile(1-(1-j.level)/2, float64(space.DF())) * math.Sqrt(space.RSS(y)/float64(space.DF())) * norm(w)
	c.interval, c.tested = stat.Interval{Low: c.difference - half, High: c.difference + half}, true
	return c
}

func (j judge) effectWeights(i int, from, to []Setting) []float64 {
	var settings [][]Setting
	var control []bool
	for _, d := range j.dishes {
		settings, control = append(settings, d.levels), append(control, d.control)
	}
	return effectWeights(j.p.Factors, settings, control, i, from, to)
}

func runColumnSettings(p *Plan, runs []int, id evidence.Factor) []Setting {
	var out []Setting
	for _, k := range runs {
		i := slices.IndexFunc(p.Dishes, func(d Dish) bool { return d.Run == k+1 })
		out = append(out, p.Dishes[i].Levels[id])
	}
	return out
}

// groupWeights gives every treatment (cell) of a group the same say, however
// many of its dishes were counted. Nil cells: every row is one.
func groupWeights(settings []Setting, cells []string, from, to []Setting) []float64 {
	size := map[string]float64{}
	group := map[string]float64{} // cells of the group, by sign
	key := func(i int) string {
		if cells == nil {
			return fmt.Sprint(i)
		}
		return cells[i]
	}
	sign := func(s Setting) float64 {
		switch {
		case slices.Contains(to, s):
			return 1
		case slices.Contains(from, s):
			return -1
		}
		return 0
	}
	n := map[float64]float64{}
	for i, s := range settings {
		size[key(i)]++
		if g := sign(s); size[key(i)] == 1 && g != 0 {
			group[key(i)] = g
			n[g]++
		}
	}
	if n[1] == 0 || n[-1] == 0 {
		return nil
	}
	w := make([]float64, len(settings))
	for i := range settings {
		if g := group[key(i)]; g != 0 {
			w[i] = g / n[g] / size[key(i)]
		}
	}
	return w
}

// fraction returns the interval of the hatched fraction at levels of factor i,
// with as many eggs as their spread over dishes leaves independent. The added
// control counts where its setting is among the levels.
func (j judge) fraction(i int, levels []Setting) stat.Interval {
	all, dishes := j.count(i, levels)
	if dishes == 0 {
		return stat.Interval{Low: 0, High: 1}
	}
	return dishInterval(all, all.Eggs/dishes, j.p.Odds.Rho, j.level)
}

// count sums the dishes at levels of factor i.
func (j judge) count(i int, levels []Setting) (all stat.Count, dishes int) {
	for _, d := range j.dishes {
		if slices.Contains(levels, d.levels[i]) {
			dishes++
			all.Hatched += d.hatched
			all.Eggs += d.eggs
		}
	}
	return all, dishes
}

// dishInterval is the Wilson interval of as many independent eggs as dishes of
// the given size, with the given correlation, are worth.
func dishInterval(all stat.Count, each int, rho, level float64) stat.Interval {
	eggs := max(1, int(float64(all.Eggs)/stat.DesignEffect(each, rho)))
	hatched := min(eggs, int(math.Round(all.Fraction()*float64(eggs))))
	return stat.Wilson(stat.Count{Hatched: hatched, Eggs: eggs}, level)
}

// someHatch and noneHatch read an interval of the hatched fraction.
func someHatch(i stat.Interval) bool { return i.Low > fewHatch }
func noneHatch(i stat.Interval) bool { return i.High < 3*fewHatch }

func (c contrast) words() string {
	if math.IsNaN(c.difference) {
		return "one of the levels was not counted"
	}
	if !c.tested {
		return fmt.Sprintf("%+.0f per cent points, without anything to measure chance by", 100*c.difference)
	}
	return fmt.Sprintf("%+.0f per cent points (%+.0f to %+.0f)", 100*c.difference, 100*c.interval.Low, 100*c.interval.High)
}

func percentSpan(i stat.Interval) string {
	return fmt.Sprintf("%.0f to %.0f %%", 100*i.Low, 100*i.High)
}

package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
	"hatchlore/species/conflict"
)

// Design says how the treatments were chosen.
func Design(d trial.Design) string {
	s := strings.ReplaceAll(d.Kind, "-", " ")
	if d.Kind == trial.Optimal {
		s = "D-optimal subset"
	}
	if d.Resolution != "" {
		s += ", resolution " + d.Resolution
	}
	if d.SplitPlot {
		s += ", temperature set by chamber run"
	}
	if d.IncompleteBlocks {
		s += ", each lot or clutch with some of the treatments"
	}
	return s
}

// Question says what a disagreement of a plan is about: its factor and
// kind, and what tells it from another of these: the level at which sides say
// otherwise, else what the id has beyond that.
func Question(p *trial.Plan, id string) string {
	i := slices.IndexFunc(p.Questions, func(q trial.Question) bool { return q.ID == id })
	if i < 0 {
		return id
	}
	q := p.Questions[i]
	_, which, _ := strings.Cut(id, ":"+q.Kind+":")
	if q.Kind == trial.KindOpposed {
		which = contested(q)
	}
	if which != "" {
		which = " (" + which + ")"
	}
	return q.Factor.Label() + ": " + Kinds[conflict.Kind(q.Kind)] + which
}

// contested names the level on which the sides of a question stand, "" where each
// has its own.
func contested(q trial.Question) string {
	sides := q.Sides(trial.Factor{ID: q.Factor, Unit: q.Unit})
	for _, s := range sides {
		if s.Words != sides[0].Words {
			return ""
		}
	}
	if len(sides) == 0 {
		return ""
	}
	return sides[0].Words
}

// Trial names a trial by its keeper, "" for one's own: "own trial dry", "trial wet
// of Jo Alder".
func Trial(id, keeper string) string {
	if keeper == "" {
		return "own trial " + id
	}
	return "trial " + id + " of " + keeper
}

// Treatment is a line of a plan's treatment table under a short code, so that
// a list of dishes need not repeat its levels.
type Treatment struct {
	Code    string   // A, B … Z, AA …
	Cells   []string // levels in words, in the order of the plan's factors
	Control bool
	Dishes  int
	Eggs    int
}

// Treatments returns the treatments of a plan, and the codes of its dishes in
// their order.
func Treatments(p *trial.Plan) (rows []Treatment, dishes []string) {
	codes := map[string]string{}
	for i, t := range p.Treatments() {
		code := string(rune('A' + i%26))
		if i >= 26 {
			code = string(rune('A'+i/26-1)) + code
		}
		codes[treatmentKey(p, t.Levels, t.Control)] = code
		rows = append(rows, Treatment{code, LevelCells(p, t.Levels), t.Control, t.Dishes, t.Eggs})
	}
	for _, d := range p.Dishes {
		dishes = append(dishes, codes[treatmentKey(p, d.Levels, d.Control)])
	}
	return rows, dishes
}

func treatmentKey(p *trial.Plan, levels map[evidence.Factor]trial.Setting, control bool) string {
	return fmt.Sprint(LevelCells(p, levels), control)
}

// LevelCells are the levels of a treatment in words, in the order of the plan's
// factors.
func LevelCells(p *trial.Plan, levels map[evidence.Factor]trial.Setting) []string {
	var out []string
	for _, f := range p.Factors {
		cell := ""
		if s, ok := levels[f.ID]; ok {
			cell = s.In(f.Unit)
		}
		out = append(out, cell)
	}
	return out
}

// AgendaLine is what is done on one day with the same dishes. Looks that are
// alike and follow each other are one line.
type AgendaLine struct {
	Date   trial.Day
	Do     string
	Labels []string
	All    bool // every dish of the trial
}

// AgendaLines returns a plan's calendar.
func AgendaLines(p *trial.Plan) []AgendaLine {
	var out []AgendaLine
	tasks := bench.Agenda(p)
	for i := 0; i < len(tasks); {
		j := alike(tasks, i)
		t := tasks[i]
		out = append(out, AgendaLine{t.Date, doWords(tasks[i:j]), t.Labels, len(t.Labels) == len(p.Dishes)})
		i = j
	}
	return out
}

// alike returns the end of the tasks from i on that go on one line.
func alike(tasks []bench.Task, i int) int {
	t := tasks[i]
	j := i + 1
	for j < len(tasks) && slices.Equal(tasks[j].Dishes, t.Dishes) {
		look := t.Act == trial.ActLook && tasks[j].Act == t.Act && tasks[j].Do == t.Do
		if !look && tasks[j].Date != t.Date {
			break
		}
		j++
	}
	return j
}

// doWords joins what is done on one day, or names the other days of a look.
func doWords(tasks []bench.Task) string {
	out := tasks[0].Do
	var days []string
	for i, t := range tasks[1:] {
		was := tasks[i].Date
		switch {
		case t.Date == was:
			out += "; " + t.Do
		case t.Date.Month == was.Month:
			days = append(days, fmt.Sprint(t.Date.Date))
		default:
			days = append(days, t.Date.String())
		}
	}
	if len(days) > 0 {
		out += "; again on " + strings.Join(days, ", ")
	}
	return out
}

// Likely is the chance from which a question counts as one that the trial can
// settle.
const Likely = 0.5

// Offer is a plan with some number of eggs, beside others.
type Offer struct {
	trial.WhatIf
	Own      bool     // the plan itself
	Weakest  float64  // power of the weakest comparison that can be tested; below 0 where there is none
	Untested []string // factors that it cannot test
	Settled  int      // questions that it more likely settles than not, whichever side is right
}

// Offers sets a plan between plans with other numbers of eggs.
func Offers(p *trial.Plan) []Offer {
	own := trial.WhatIf{Eggs: p.EggsUsed + p.EggsKept, Treatments: len(p.Treatments()), Dishes: len(p.Dishes), Design: p.Design, Power: p.Power, Settles: p.Settles}
	out := []Offer{{WhatIf: own, Own: true}}
	for _, w := range p.WhatIf {
		if w.Eggs != own.Eggs {
			out = append(out, Offer{WhatIf: w})
		}
	}
	for i := range out {
		out[i].sum()
	}
	slices.SortFunc(out, func(a, b Offer) int { return a.Eggs - b.Eggs })
	return out
}

// sum works out what the plan comes to.
func (o *Offer) sum() {
	o.Weakest = -1
	for _, w := range o.Power {
		switch label := w.Factor.Label(); {
		case !w.Untestable && (o.Weakest < 0 || w.Power < o.Weakest):
			o.Weakest = w.Power
		case w.Untestable && !slices.Contains(o.Untested, label):
			o.Untested = append(o.Untested, label)
		}
	}
	for _, s := range o.Settles {
		if s.Least() >= Likely {
			o.Settled++
		}
	}
}

// CannotShow says which sides of a question would not be called supported though
// they were right, where others would; "" where that is none.
func CannotShow(s trial.Settles) string {
	if percent(s.Chance) == 0 {
		return ""
	}
	var sides []string
	for _, side := range s.Sides {
		if percent(side.Chance) == 0 {
			sides = append(sides, side.Side)
		}
	}
	if len(sides) == 0 {
		return ""
	}
	return "cannot show: " + strings.Join(sides, "; ")
}

// percent is a share as it is printed.
func percent(share float64) int { return int(math.Round(100 * share)) }

// Likeness says how alike the eggs of one dish are, as their correlation: its
// third digit is the last that dishes can tell.
func Likeness(rho float64) string {
	switch {
	case rho <= 0:
		return "none seen"
	case rho < 0.0005:
		return "under 0.001"
	}
	return fmt.Sprintf("%.3f", rho)
}

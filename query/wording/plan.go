package wording

import (
	"cmp"
	"fmt"
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
// kind, and what tells it from another of these.
func Question(p *trial.Plan, id string) string {
	for _, q := range p.Questions {
		if q.ID != id {
			continue
		}
		_, which, _ := strings.Cut(id, ":"+q.Kind+":")
		if which != "" {
			which = " (" + which + ")"
		}
		return q.Factor.Label() + ": " + Kinds[conflict.Kind(q.Kind)] + which
	}
	return id
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
	Own     bool    // the plan itself
	Weakest float64 // power of the weakest comparison; below 0 where there is none
	Settled int     // questions that it more likely settles than not
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
		o := &out[i]
		o.Weakest = -1
		if len(o.Power) > 0 {
			o.Weakest = slices.MinFunc(o.Power, func(a, b trial.Power) int { return cmp.Compare(a.Power, b.Power) }).Power
		}
		for _, s := range o.Settles {
			if s.Chance >= Likely {
				o.Settled++
			}
		}
	}
	slices.SortFunc(out, func(a, b Offer) int { return a.Eggs - b.Eggs })
	return out
}

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

package main

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
	"hatchlore/query"
	"hatchlore/species"
)

// printPlan prints a plan for a person: what is asked, the treatments, the
// dishes by label, what is to be done when, what to expect of it, and what
// other numbers of eggs would buy.
func printPlan(w io.Writer, p *trial.Plan, kept bool) error {
	width := widthOf(w)
	para := func(format string, args ...any) {
		for _, l := range fold(fmt.Sprintf(format, args...), width) {
			fmt.Fprintln(w, l)
		}
	}
	para("trial %s: %s", p.Trial, p.Taxon)
	para("%s; %d dishes, %d eggs used, %d kept back; seed %d", designWords(p.Design), len(p.Dishes), p.EggsUsed, p.EggsKept, p.Seed)
	para("from %s, trigger on %s, last look on %s", p.Start, p.Trigger, p.End)
	codes := treatmentCodes(p)
	for _, part := range []struct {
		head string
		grid *grid
	}{
		{"factors", factorGrid(p)},
		{"treatments", treatmentGrid(p, codes)},
		{"dishes (the labels say nothing of the treatment; keep this list away from whoever counts)", dishGrid(p, codes)},
		{"calendar", calendarGrid(p)},
		{"what to expect", oddsGrid(p)},
		{"questions", settlesGrid(p)},
		{"with other numbers of eggs", whatIfGrid(p)},
	} {
		if len(part.grid.rows) == 0 {
			continue
		}
		fmt.Fprintln(w)
		para("%s", part.head)
		if err := part.grid.print(w, 2, width); err != nil {
			return err
		}
	}
	list(w, "\nleft out", leftOut(p), width)
	list(w, "\nassumed", p.Assumed, width)
	list(w, "\nmind", p.Warnings, width)
	list(w, "\nbefore you start", p.Cautions, width)
	if kept {
		fmt.Fprintln(w)
		para("kept in the library: 'hatchlore trial sheet %s' prints what the bench needs", p.Trial)
	}
	return nil
}

func designWords(d trial.Design) string {
	s := strings.ReplaceAll(d.Kind, "-", " ")
	if d.Kind == "d-optimal" {
		s = "D-optimal subset"
	}
	if d.Resolution != "" {
		s += ", resolution " + d.Resolution
	}
	if d.SplitPlot {
		s += ", temperature set by chamber run"
	}
	return s
}

func factorGrid(p *trial.Plan) *grid {
	g := &grid{heads: []string{"factor", "levels", "untreated", "on the strength of"}}
	for _, f := range p.Factors {
		levels := make([]string, len(f.Levels))
		for i, l := range f.Levels {
			levels[i] = l.In(f.Unit)
		}
		control := ""
		if f.Control != nil {
			control = f.Control.In(f.Unit)
		}
		behind := ""
		if len(f.Claims) > 0 {
			behind = count(len(f.Claims), "claim") + " of the library"
		}
		g.add(f.ID.Label(), strings.Join(levels, " | "), control, behind)
	}
	for _, f := range p.Fixed {
		g.add(f.ID.Label(), f.Setting.In(f.Unit)+" in every dish", "", f.Why)
	}
	return g
}

// treatmentCodes names the treatments A, B, C … so that the list of dishes
// need not repeat their levels.
func treatmentCodes(p *trial.Plan) map[string]string {
	out := map[string]string{}
	for i, t := range p.Treatments() {
		code := string(rune('A' + i%26))
		if i >= 26 {
			code = string(rune('A'+i/26-1)) + code
		}
		out[treatmentKey(p, t.Levels, t.Control)] = code
	}
	return out
}

func treatmentKey(p *trial.Plan, levels map[evidence.Factor]trial.Setting, control bool) string {
	return fmt.Sprint(levelCells(p, levels), control)
}

func treatmentGrid(p *trial.Plan, codes map[string]string) *grid {
	g := &grid{heads: slices.Concat([]string{""}, factorLabels(p), []string{"dishes", "eggs"})}
	for _, t := range p.Treatments() {
		g.add(slices.Concat([]string{codes[treatmentKey(p, t.Levels, t.Control)]}, levelCells(p, t.Levels),
			[]string{fmt.Sprint(t.Dishes), fmt.Sprint(t.Eggs)})...)
		if t.Control {
			g.under("untreated, to compare with")
		}
	}
	return g
}

func dishGrid(p *trial.Plan, codes map[string]string) *grid {
	g := &grid{heads: []string{"dish", "label", "treatment", "chamber", "run", "eggs"}}
	lots := slices.ContainsFunc(p.Dishes, func(d trial.Dish) bool { return d.Block() != "" })
	if lots {
		g.heads = append(g.heads, "lot")
	}
	for _, d := range p.Dishes {
		row := []string{fmt.Sprint(d.Dish), d.Label, codes[treatmentKey(p, d.Levels, d.Control)], d.Chamber, fmt.Sprint(d.Run), fmt.Sprint(d.Eggs)}
		if lots {
			row = append(row, d.Block())
		}
		g.add(row...)
	}
	return g
}

func factorLabels(p *trial.Plan) []string {
	var out []string
	for _, f := range p.Factors {
		out = append(out, f.ID.Label())
	}
	return out
}

func levelCells(p *trial.Plan, levels map[evidence.Factor]trial.Setting) []string {
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

// calendarGrid shows the agenda: one line for what is done on one day with the
// same dishes, with their labels. Looks that are alike and follow each other
// are one line.
func calendarGrid(p *trial.Plan) *grid {
	g := &grid{heads: []string{"day", "do", "dishes"}}
	tasks := bench.Agenda(p)
	last := trial.Day{}
	for i := 0; i < len(tasks); {
		j := alike(tasks, i)
		day := ""
		if tasks[i].Date != last {
			day, last = tasks[i].Date.String(), tasks[i].Date
		}
		who := strings.Join(tasks[i].Labels, " ")
		if len(tasks[i].Labels) == len(p.Dishes) {
			who = "all"
		}
		g.add(day, doWords(tasks[i:j]), who)
		i = j
	}
	return g
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

func oddsGrid(p *trial.Plan) *grid {
	g := &grid{heads: []string{"comparison", fmt.Sprintf("chance to find a difference of %.0f in 100 eggs", 100*p.Odds.Difference)}}
	for _, pw := range p.Power {
		unit := pw.Factor.Unit()
		g.add(fmt.Sprintf("%s: %s against %s", pw.Factor.Label(), pw.From.In(unit), pw.To.In(unit)), percent(pw.Power))
	}
	return g
}

func settlesGrid(p *trial.Plan) *grid {
	g := &grid{heads: []string{"question", "chance that the counts settle it"}}
	for _, s := range p.Settles {
		g.add(questionWords(p, s.Conflict), percent(s.Chance))
	}
	return g
}

// questionWords says what a disagreement is about: its factor and kind, and
// what tells it from another of these.
func questionWords(p *trial.Plan, id string) string {
	for _, q := range p.Questions {
		if q.ID != id {
			continue
		}
		_, which, _ := strings.Cut(id, ":"+q.Kind+":")
		if which != "" {
			which = " (" + which + ")"
		}
		return q.Factor.Label() + ": " + query.KindWords[species.Kind(q.Kind)] + which
	}
	return id
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// likely is the chance from which a question counts as one that the trial can
// settle.
const likely = 0.5

// whatIfGrid sets the plan between plans with other numbers of eggs.
func whatIfGrid(p *trial.Plan) *grid {
	g := &grid{heads: []string{"eggs", "treatments", "dishes", "weakest comparison", "likely settled", ""}}
	if len(p.WhatIf) == 0 {
		return g
	}
	own := trial.WhatIf{Eggs: p.EggsUsed + p.EggsKept, Treatments: len(p.Treatments()), Dishes: len(p.Dishes), Design: p.Design, Power: p.Power, Settles: p.Settles}
	all := slices.DeleteFunc(slices.Clone(p.WhatIf), func(w trial.WhatIf) bool { return w.Eggs == own.Eggs })
	all = append(all, own)
	slices.SortFunc(all, func(a, b trial.WhatIf) int { return a.Eggs - b.Eggs })
	for _, w := range all {
		if w.Refusal != "" {
			g.add(fmt.Sprint(w.Eggs), "", "", "", "", w.Refusal)
			continue
		}
		note := designWords(w.Design)
		if w.Eggs == own.Eggs {
			note += " (this plan)"
		}
		g.add(fmt.Sprint(w.Eggs), fmt.Sprint(w.Treatments), fmt.Sprint(w.Dishes), weakest(w.Power), settled(w.Settles, len(p.Questions)), note)
	}
	return g
}

func weakest(power []trial.Power) string {
	least := math.Inf(1)
	for _, pw := range power {
		least = min(least, pw.Power)
	}
	if math.IsInf(least, 1) {
		return ""
	}
	return percent(least)
}

func settled(chances []trial.Settles, questions int) string {
	if max(len(chances), questions) == 0 {
		return ""
	}
	n := 0
	for _, s := range chances {
		if s.Chance >= likely {
			n++
		}
	}
	return fmt.Sprintf("%d of %s", n, count(len(chances), "question"))
}

func leftOut(p *trial.Plan) []string {
	var out []string
	for _, l := range p.LeftOut {
		out = append(out, l.Factor.Label()+": "+l.Why)
	}
	return out
}

// list prints sentences one below the other under a heading, nothing when
// there are none.
func list(w io.Writer, heading string, sentences []string, width int) {
	if len(sentences) == 0 {
		return
	}
	fmt.Fprintln(w, heading)
	g := &grid{}
	for _, s := range sentences {
		g.add("·", s)
	}
	text := strings.TrimLeft(heading, "\n")
	_ = g.print(w, 2+len(text)-len(strings.TrimLeft(text, " ")), width)
}

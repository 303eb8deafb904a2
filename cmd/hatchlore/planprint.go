package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// printPlan prints a plan for a person: what is asked, the treatments, the
// dishes by label, what is to be done when, and what to expect of it.
func printPlan(w io.Writer, p *trial.Plan) error {
	width := widthOf(w)
	para := func(format string, args ...any) {
		for _, l := range fold(fmt.Sprintf(format, args...), width) {
			fmt.Fprintln(w, l)
		}
	}
	para("trial %s: %s", p.Trial, p.Taxon)
	para("%s; %d dishes, %d eggs used, %d kept back; seed %d", designWords(p.Design), len(p.Dishes), p.EggsUsed, p.EggsKept, p.Seed)
	para("from %s, trigger on %s, last look on %s", p.Start, p.Trigger, p.End)

	fmt.Fprintln(w, "\nfactors")
	if err := factorGrid(p).print(w, 2, width); err != nil {
		return err
	}
	fmt.Fprintln(w, "\ntreatments")
	if err := treatmentGrid(p).print(w, 2, width); err != nil {
		return err
	}
	fmt.Fprintln(w, "\ndishes (the labels say nothing of the treatment; keep this list away from the bench)")
	if err := dishGrid(p).print(w, 2, width); err != nil {
		return err
	}
	fmt.Fprintln(w, "\ncalendar")
	if err := calendarGrid(p).print(w, 2, width); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nwhat to expect")
	if err := oddsGrid(p).print(w, 2, width); err != nil {
		return err
	}
	for _, s := range p.Settles {
		para("  chance that the counts settle %s: %.0f %%", s.Conflict, 100*s.Chance)
	}
	list(w, "\nleft out", leftOut(p), width)
	list(w, "\nassumed", p.Assumed, width)
	list(w, "\nmind", p.Warnings, width)
	list(w, "\nbefore you start", p.Cautions, width)
	return nil
}

func designWords(d trial.Design) string {
	s := strings.ReplaceAll(d.Kind, "-", " ")
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

func treatmentGrid(p *trial.Plan) *grid {
	g := &grid{heads: append(factorLabels(p), "dishes", "eggs", "")}
	for _, t := range p.Treatments() {
		cells := levelCells(p, t.Levels)
		note := ""
		if t.Control {
			note = "untreated"
		}
		g.add(append(cells, fmt.Sprint(t.Dishes), fmt.Sprint(t.Eggs), note)...)
	}
	return g
}

func dishGrid(p *trial.Plan) *grid {
	g := &grid{heads: append([]string{"dish", "label", "chamber", "run", "eggs"}, factorLabels(p)...)}
	for _, d := range p.Dishes {
		cells := []string{fmt.Sprint(d.Dish), d.Label, d.Chamber, fmt.Sprint(d.Run), fmt.Sprint(d.Eggs)}
		g.add(append(cells, levelCells(p, d.Levels)...)...)
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

// calendarGrid gathers the steps of all dishes by day: one line for each
// thing to do, with the labels it is for.
func calendarGrid(p *trial.Plan) *grid {
	type key struct {
		day trial.Day
		do  string
	}
	var order []key
	labels := map[key][]string{}
	for _, d := range p.Dishes {
		for _, s := range d.Steps {
			k := key{s.Date, s.Do}
			if labels[k] == nil {
				order = append(order, k)
			}
			labels[k] = append(labels[k], d.Label)
		}
	}
	slices.SortStableFunc(order, func(a, b key) int { return a.day.Since(b.day) })
	g := &grid{heads: []string{"day", "do", "dishes"}}
	last := trial.Day{}
	for _, k := range order {
		day := ""
		if k.day != last {
			day, last = k.day.String(), k.day
		}
		who := strings.Join(labels[k], " ")
		if len(labels[k]) == len(p.Dishes) {
			who = "all"
		}
		g.add(day, k.do, who)
	}
	return g
}

func oddsGrid(p *trial.Plan) *grid {
	odds := p.Odds
	g := &grid{heads: []string{"comparison", fmt.Sprintf("chance to find a difference of %.0f in 100 eggs", 100*odds.Difference)}}
	for _, pw := range p.Power {
		unit := pw.Factor.Unit()
		g.add(fmt.Sprintf("%s: %s against %s", pw.Factor.Label(), pw.From.In(unit), pw.To.In(unit)), fmt.Sprintf("%.0f %%", 100*pw.Power))
	}
	return g
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
	_ = g.print(w, 2, width)
}

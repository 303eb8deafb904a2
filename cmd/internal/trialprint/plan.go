// Package trialprint lays out for a person what a trial's plan holds and what its
// counts say.
//
// It refuses to weigh anything itself: every figure that it prints was worked
// out before.
package trialprint

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"hatchlore/cmd/internal/terminal"
	"hatchlore/evidence/trial"
	"hatchlore/query/wording"
)

// Plan prints a plan for a person: what is asked, the treatments, the
// dishes by label, what is to be done when, what to expect of it, and what
// other numbers of eggs would buy.
func Plan(w io.Writer, p *trial.Plan, kept bool) error {
	width := terminal.Width(w)
	para := func(format string, args ...any) {
		terminal.Paragraph(w, fmt.Sprintf(format, args...), 0, width)
	}
	para("trial %s: %s", p.Trial, p.Taxon)
	para("%s; %d dishes, %d eggs used, %d kept back; seed %d", wording.Design(p.Design), len(p.Dishes), p.EggsUsed, p.EggsKept, p.Seed)
	para("from %s, trigger on %s, last look on %s", p.Start, p.Trigger, p.End)
	if held := heldWords(p); held != "" {
		para("in all dishes: %s", held)
	}
	treatments, codes := wording.Treatments(p)
	for _, part := range []struct {
		head string
		grid *terminal.Grid
	}{
		{"factors", factorGrid(p)},
		{"treatments", treatmentGrid(p, treatments)},
		{"dishes (the labels say nothing of the treatment; keep this list away from whoever counts)", dishGrid(p, codes)},
		{"calendar", Calendar(p)},
		{"what to expect", oddsGrid(p)},
		{"questions (the chance that a side which is right will be called supported, over the sides on average)", settlesGrid(p)},
		{whatIfHead(p), whatIfGrid(p)},
	} {
		if part.grid.Empty() {
			continue
		}
		fmt.Fprintln(w)
		para("%s", part.head)
		if err := part.grid.Print(w, 2, width); err != nil {
			return err
		}
	}
	terminal.List(w, "left out", leftOut(p), 0, width)
	terminal.List(w, "assumed", p.Assumed, 0, width)
	terminal.List(w, "mind", p.Warnings, 0, width)
	terminal.List(w, "before you start", p.Cautions, 0, width)
	if kept {
		fmt.Fprintln(w)
		para("kept in the library: 'hatchlore trial sheet %s' prints what the bench needs", p.Trial)
	}
	return nil
}

func factorGrid(p *trial.Plan) *terminal.Grid {
	g := &terminal.Grid{Heads: []string{"factor", "levels", "untreated", "on the strength of"}}
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
			behind = trial.Plural(len(f.Claims), "claim") + " of the library"
		}
		g.Add(f.ID.Label(), strings.Join(levels, " | "), control, behind)
	}
	for _, f := range p.Fixed {
		if f.Why == trial.AsAsked {
			continue // said at the head of the plan
		}
		g.Add(f.ID.Label(), f.Setting.In(f.Unit)+" in every dish", "", f.Why)
	}
	return g
}

// heldWords names what the keeper holds in all dishes, "" where that is nothing.
func heldWords(p *trial.Plan) string {
	var out []string
	for _, f := range p.Fixed {
		if f.Why == trial.AsAsked {
			out = append(out, f.ID.Label()+" "+f.Setting.In(f.Unit))
		}
	}
	return strings.Join(out, ", ")
}

func treatmentGrid(p *trial.Plan, rows []wording.Treatment) *terminal.Grid {
	g := &terminal.Grid{Heads: slices.Concat([]string{""}, factorLabels(p), []string{"dishes", "eggs"})}
	for _, t := range rows {
		g.Add(slices.Concat([]string{t.Code}, t.Cells, []string{fmt.Sprint(t.Dishes), fmt.Sprint(t.Eggs)})...)
		if t.Control {
			note := "untreated, to compare with"
			if slices.ContainsFunc(p.Fixed, trial.Fixed.Treats) {
				note = "untreated but for what all dishes get, to compare with"
			}
			g.Under(note)
		}
	}
	return g
}

// dishGrid lists the dishes, with run and lot where there are several.
func dishGrid(p *trial.Plan, codes []string) *terminal.Grid {
	g := &terminal.Grid{Heads: []string{"dish", "label", "treatment", "chamber"}}
	runs, lots := len(p.Runs) > 1, slices.ContainsFunc(p.Dishes, func(d trial.Dish) bool { return d.Block() != "" })
	if runs {
		g.Heads = append(g.Heads, "run")
	}
	g.Heads = append(g.Heads, "eggs")
	if lots {
		g.Heads = append(g.Heads, "lot")
	}
	for i, d := range p.Dishes {
		row := []string{fmt.Sprint(d.Dish), d.Label, codes[i], d.Chamber}
		if runs {
			row = append(row, fmt.Sprint(d.Run))
		}
		row = append(row, fmt.Sprint(d.Eggs))
		if lots {
			row = append(row, d.Block())
		}
		g.Add(row...)
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

// Calendar shows the agenda with the labels of the dishes.
func Calendar(p *trial.Plan) *terminal.Grid {
	g := &terminal.Grid{Heads: []string{"day", "do", "dishes"}}
	last := trial.Day{}
	for _, l := range wording.AgendaLines(p) {
		day := ""
		if l.Date != last {
			day, last = l.Date.String(), l.Date
		}
		who := strings.Join(l.Labels, " ")
		if l.All {
			who = "all"
		}
		g.Add(day, l.Do, who)
	}
	return g
}

func oddsGrid(p *trial.Plan) *terminal.Grid {
	g := &terminal.Grid{Heads: []string{"comparison", fmt.Sprintf("chance to find a difference of %.0f in 100 eggs", 100*p.Odds.Difference)}}
	for _, pw := range p.Power {
		unit := pw.Factor.Unit()
		chance := percent(pw.Power)
		if pw.Untestable {
			chance = "not tested, see 'mind' below"
		}
		g.Add(fmt.Sprintf("%s: %s against %s", pw.Factor.Label(), pw.From.In(unit), pw.To.In(unit)), chance)
	}
	return g
}

func settlesGrid(p *trial.Plan) *terminal.Grid {
	g := &terminal.Grid{Heads: []string{"question", "chance that the counts settle it"}}
	for _, s := range p.Settles {
		but := missingLevels(p, s)
		if cannot := wording.CannotShow(s); cannot != "" {
			but = " (" + cannot + ")"
		}
		g.Add(wording.Question(p, s.Conflict), percent(s.Chance)+but)
	}
	return g
}

// missingLevels says why the counts cannot settle a question: the levels on
// which it turns are not in the plan.
func missingLevels(p *trial.Plan, s trial.Settles) string {
	i := slices.IndexFunc(p.Questions, func(q trial.Question) bool { return q.ID == s.Conflict })
	if i < 0 || s.Chance >= 0.005 || !slices.ContainsFunc(p.LeftOut, func(l trial.LeftOut) bool { return l.Factor == p.Questions[i].Factor }) {
		return ""
	}
	return " (levels left out, see below)"
}

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// whatIfHead says what is counted as likely settled.
func whatIfHead(p *trial.Plan) string {
	head := "with other numbers of eggs"
	if len(p.Questions) > 0 {
		head += " (likely settled: whichever side is right, it has an even chance or better to be called supported)"
	}
	return head
}

// whatIfGrid sets the plan between plans with other numbers of eggs.
func whatIfGrid(p *trial.Plan) *terminal.Grid {
	g := &terminal.Grid{Heads: []string{"eggs", "treatments", "dishes", "weakest comparison", "likely settled", ""}}
	if len(p.WhatIf) == 0 {
		return g
	}
	for _, o := range wording.Offers(p) {
		if o.Refusal != "" {
			g.Add(fmt.Sprint(o.Eggs), "", "", "", "", o.Refusal)
			continue
		}
		note := wording.Design(o.Design)
		if o.Own {
			note += " (this plan)"
		}
		for _, f := range o.Untested {
			note += ", " + f + " not tested"
		}
		weakest, settled := "", ""
		if o.Weakest >= 0 {
			weakest = percent(o.Weakest)
		}
		if len(p.Questions) > 0 {
			settled = fmt.Sprintf("%d of %s", o.Settled, trial.Plural(len(o.Settles), "question"))
		}
		g.Add(fmt.Sprint(o.Eggs), fmt.Sprint(o.Treatments), fmt.Sprint(o.Dishes), weakest, settled, note)
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

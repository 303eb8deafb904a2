package caveat

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// ofRuns says what the chamber runs can and cannot tell.
func (b Bench) ofRuns(p *trial.Plan, say sayer) {
	for _, f := range p.Factors {
		if !f.WholePlot {
			continue
		}
		label, place := f.ID.Label(), placeOf(f)
		weak := slices.ContainsFunc(p.Power, func(w trial.Power) bool { return w.Factor == f.ID && w.Power < weakPower })
		switch {
		case !p.Testable(f) && b.Runs == 1:
			say("%s cannot be tested: each temperature stands in one %s, so a difference may be the %s's. %s, or leave the factor out", label, place, place, b.remedy(f))
		case !p.Testable(f):
			say("%s cannot be tested, though each temperature has %d runs: they stand in the same %s, which shows what differs from time to time, not what differs between one %s and another. %s, or leave the factor out",
				label, b.Runs, place, place, b.remedy(f))
		case repeats(p, f) != "":
			say("of %s, %s: a repeat in the same %s shows what differs from time to time, not what differs between one %s and another", label, repeats(p, f), place, place)
		case weak:
			say("%s is tested between %s, not between dishes", label, trial.Plural(unitsOf(p, f), place+" run"))
		}
	}
	if n := b.Runs; len(b.Chambers) == 0 && n > 1 {
		say("no chambers were given: the plan supposes one for each of its temperatures and runs, each with a place of its own for the cold-moist period")
	} else if len(b.Chambers) == 0 {
		say("no chambers were given: the plan supposes one for each of its temperatures")
	}
	if last := p.Runs[len(p.Runs)-1].Batch; last > 1 {
		say("the chambers cannot hold all runs at once: they follow one another in %d batches", last)
	}
}

// placeOf is the word for what a temperature stands in.
func placeOf(f trial.Factor) string {
	if f.ID == evidence.ColdTemperature {
		return "cold place"
	}
	return "chamber"
}

// unitsOf is how many units a chamber temperature is tested between.
func unitsOf(p *trial.Plan, f trial.Factor) int { return slices.Max(p.Units(f.ID, p.AllRuns())) + 1 }

// repeats says which runs of a temperature have no place of their own.
func repeats(p *trial.Plan, f trial.Factor) string {
	var out []string
	for _, k := range p.Repeated(f) {
		said := fmt.Sprintf("the runs at %s in %s count as one", p.RunSettings([]int{k}, f.ID)[0].In(f.Unit), p.Runs[k].Place(f.ID))
		if !slices.Contains(out, said) {
			out = append(out, said)
		}
	}
	return strings.Join(out, "; ")
}

// remedy says what would make a chamber temperature testable.
func (b Bench) remedy(f trial.Factor) string {
	able := 0
	for _, c := range b.Chambers {
		if !slices.ContainsFunc(f.Levels, func(l trial.Setting) bool { return !c.Holds(l.Number) }) {
			able++
		}
	}
	switch {
	case f.ID == evidence.ColdTemperature && b.Runs > 1:
		return "Give each run a place of its own"
	case f.ID == evidence.ColdTemperature:
		return "Give each two runs in places of their own"
	case able >= 2 && b.Runs == 1:
		return "Give each two runs, the chambers' temperatures swapped between them"
	case len(b.Chambers) == 0:
		return "Give each two runs in chambers of their own"
	}
	if b.Runs > 1 {
		return "Give each a second chamber that can hold it"
	}
	return "Give each a second chamber that can hold it, and two runs"
}

// unused names the lots or clutches that give no egg to the plan.
func (b Bench) unused(p *trial.Plan) []string {
	var out []string
	for _, l := range b.Lots {
		name := trial.Dish{Lot: l.Name, Clutch: l.Clutch}.Block()
		if name != "" && !slices.ContainsFunc(p.Dishes, func(d trial.Dish) bool { return d.Block() == name }) {
			out = append(out, name)
		}
	}
	return out
}

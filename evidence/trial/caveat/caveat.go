// Package caveat says what a plan cannot tell, and what a keeper must mind before
// starting it: temperatures without a second chamber, combinations that are not
// tried, eggs that wait, dishes that are few, small or full, comparisons that will
// probably miss what they look for.
//
// It refuses to change a plan: what is wanting is said with what would mend it.
package caveat

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/verdict"
)

// Limits under which a layout is sound but weak (rules of thumb, no source).
const (
	weakPower   = 0.8
	fewErrorDF  = 6
	fewEggsDish = 5
	manyEggs    = 50
	longWait    = 7 // days
)

// Bench is what stands at hand for a plan.
type Bench struct {
	Chambers []trial.Chamber // nil: none were named
	Runs     int             // of each temperature
	Lots     []trial.Lot
	Forward  bool // all dishes start on the first day
}

// sayer takes a sentence.
type sayer func(format string, args ...any)

// Of lists what a keeper must know about a plan before starting it. It refuses a
// plan whose dishes make no layout.
func Of(p *trial.Plan, b Bench) ([]string, error) {
	var out []string
	say := sayer(func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) })
	b.ofRuns(p, say)
	ofCold(p, say)
	ofCombinations(p.Design, say)
	b.ofDays(p, say)
	b.ofLots(p, say)
	if err := ofDishes(p, say); err != nil {
		return nil, err
	}
	ofPower(p, say)
	ofSenseless(p, say)
	return out, nil
}

// ofCombinations says what a part of the factorial cannot tell.
func ofCombinations(d trial.Design, say sayer) {
	switch d.Kind {
	case trial.Fraction:
		say("not every combination is tried (a fraction of resolution %s): %s", d.Resolution, aliasCount(d.Aliases))
	case trial.Optimal:
		say("not every combination is tried (the subset that tells single factors apart best): how two factors work together cannot be told, and may pass for what a third one does")
	}
}

// ofDays says what differs between dishes beside their treatments because
// treatments last differently.
func (b Bench) ofDays(p *trial.Plan, say sayer) {
	if b.Forward {
		if slices.ContainsFunc(p.Dishes, func(d trial.Dish) bool { return d.Trigger() != p.Dishes[0].Trigger() }) {
			say("the dishes meet their triggers on different days: what differs between days is mixed with the treatments")
		}
		return
	}
	if wait := longestWait(p); wait >= longWait {
		say("eggs of shorter treatments wait up to %s to be set out, so that all dishes meet the trigger together: keep them as they came, all alike. What the wait does to them cannot be told from the treatment; with all dishes started on the first day none waits, but triggers fall on different days", trial.Plural(wait, "day"))
	}
}

// ofLots says what the lots or clutches cannot give.
func (b Bench) ofLots(p *trial.Plan, say sayer) {
	if p.Design.IncompleteBlocks {
		say("the lots or clutches are too small to hold every treatment: each holds some of them, dealt so that the levels of a factor meet within them. What differs between them is taken out; how two factors work together cannot be told")
	}
	if unused := b.unused(p); len(unused) > 0 {
		say("nothing is taken from %s: too few eggs for a share in the trial", strings.Join(unused, ", "))
	}
}

// ofDishes says where dishes are too few, too small or too full.
func ofDishes(p *trial.Plan, say sayer) error {
	eggs := p.Dishes[0].Eggs
	df, err := verdict.Planned(p).DF()
	if err != nil {
		return err
	}
	if df < fewErrorDF {
		say("only %s to measure chance by (what is left of the dishes beside treatments, chamber runs and lots): more dishes with fewer eggs each would help more than more eggs", trial.Plural(df, "degree")+" of freedom")
	}
	if eggs < fewEggsDish {
		say("%s a dish are few: one lost egg moves a dish by %.0f per cent points", trial.Plural(eggs, "egg"), 100/float64(eggs))
	}
	if eggs > manyEggs {
		say("%d eggs a dish are many: they foul and crowd each other, and more dishes would tell more", eggs)
	}
	return nil
}

// longestWait is how many days after the first dish the last is set out.
func longestWait(p *trial.Plan) int {
	wait := 0
	for _, d := range p.Dishes {
		wait = max(wait, d.SetOut().Since(p.Start))
	}
	return wait
}

// ofCold says what becomes of eggs that need a cold-moist period where
// there were too few of them to try one.
func ofCold(p *trial.Plan, say sayer) {
	set := func(f trial.Factor) bool { return f.ID == evidence.ColdLength }
	dropped := func(l trial.LeftOut) bool { return l.Factor == evidence.ColdLength && l.Conflict != "" }
	fixed := func(f trial.Fixed) bool { return f.ID == evidence.ColdLength }
	if slices.ContainsFunc(p.LeftOut, dropped) && !slices.ContainsFunc(p.Factors, set) && !slices.ContainsFunc(p.Fixed, fixed) {
		say("no dish gets a cold-moist period: where the eggs need one, none will hatch and the trial tells nothing. Settle that question first with --settle, or find more eggs")
	}
}

// ofPower names the comparisons that will probably miss the difference.
func ofPower(p *trial.Plan, say sayer) {
	var weak []string
	for _, w := range p.Power {
		if w.Power < weakPower && w.Power > 0 {
			unit := w.Factor.Unit()
			weak = append(weak, fmt.Sprintf("%s %s against %s %.0f %%", w.Factor.Label(), w.From.In(unit), w.To.In(unit), 100*w.Power))
		}
	}
	if len(weak) > 0 {
		say("a difference of %.0f per cent points would be found with a chance of only: %s", 100*p.Odds.Difference, strings.Join(weak, "; "))
	}
}

func aliasCount(aliases []string) string {
	if len(aliases) == 0 {
		return "single factors and pairs of factors are all told apart"
	}
	return strings.Join(aliases, "; ")
}

// ofSenseless names settings that cannot matter in some of the treatments.
func ofSenseless(p *trial.Plan, say sayer) {
	spoken := func(id evidence.Factor) bool {
		return slices.ContainsFunc(p.Factors, func(f trial.Factor) bool { return f.ID == id })
	}
	stored := func(x trial.Fixed) bool { return x.ID == evidence.StorageLength && x.Treats() }
	if (spoken(evidence.StorageLength) || slices.ContainsFunc(p.Fixed, stored)) && spoken(evidence.Drying) {
		say("drying is tried on eggs that are stored first: they are stored as they came, and what is called undried is no wetter than that")
	}
	length := slices.IndexFunc(p.Factors, func(f trial.Factor) bool { return f.ID == evidence.ColdLength })
	temp := slices.ContainsFunc(p.Factors, func(f trial.Factor) bool { return f.ID == evidence.ColdTemperature })
	if temp && length >= 0 && slices.Contains(p.Factors[length].Levels, trial.Num(0)) {
		say("without a cold-moist period its temperature means nothing: the dishes at 0 d are alike at every %s", strings.ToLower(evidence.ColdTemperature.Label()))
	}
}

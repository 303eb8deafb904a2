package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"hatchlore/evidence"
)

// Acts of a dish, in the order in which they can come.
const (
	actSetOut  = "set-out"
	actStore   = "store"
	actDry     = "dry"
	actFreeze  = "freeze"
	actChill   = "chill"
	actMove    = "move"
	actTrigger = "trigger"
	ActLook    = "look"
)

// Defaults of handling, common practice, no source.
const (
	defaultColdTemp = 4
	defaultColdDays = 60
	settleDays      = 1 // in the chamber before the trigger
	cleaningDays    = 1 // between two batches in one chamber
)

// phase is one part of the treatment before the eggs go to their chamber.
type phase struct {
	act, do string
	days    int
}

// recipe reads a dish's settings in the words of the bench.
type recipe struct {
	get      func(evidence.Factor) (Setting, bool)
	incubate int // days wetted in the chamber before the trigger; 0: only a day to settle
}

func (b bench) recipe(at slot) recipe {
	get := func(f evidence.Factor) (Setting, bool) {
		return settingOf(f, b.factors, b.treatments[at.treatment], b.fixed)
	}
	return recipe{get, b.incubate}
}

// inChamber is how long a dish is in its chamber before the trigger.
func (r recipe) inChamber() int { return max(settleDays, r.incubate) }

// phases returns the pre-treatments in order: stored, dried, frozen, then wetted
// and held cold.
func (r recipe) phases() []phase {
	var out []phase
	if n := r.days(evidence.StorageLength); n > 0 {
		out = append(out, phase{actStore, fmt.Sprintf("store dry for %s", plural(n, "day")), n})
	}
	if n := r.days(evidence.Drying); n > 0 {
		out = append(out, phase{actDry, fmt.Sprintf("dry at room temperature for %s", plural(n, "day")), n})
	}
	if t, ok := r.get(evidence.Freezing); ok && t.Category == "" {
		out = append(out, phase{actFreeze, fmt.Sprintf("freeze at %s for %s", t.In("degC"), plural(defaultFreezeDays, "day")), defaultFreezeDays})
	}
	if n := r.coldDays(); n > 0 {
		out = append(out, phase{actChill, fmt.Sprintf("wet and hold at %s for %s", r.coldTemp().In("degC"), plural(n, "day")), n})
	}
	return out
}

// days returns a length of treatment in whole days, 0 when there is none.
func (r recipe) days(f evidence.Factor) int {
	s, ok := r.get(f)
	if !ok || s.Category != "" {
		return 0
	}
	return int(math.Ceil(s.Number - 1e-9))
}

// coldDays is the cold-moist period; a trial of its temperature needs one even
// when its length is not spoken of.
func (r recipe) coldDays() int {
	if _, ok := r.get(evidence.ColdLength); ok {
		return r.days(evidence.ColdLength)
	}
	if _, ok := r.get(evidence.ColdTemperature); ok {
		return defaultColdDays
	}
	return 0
}

func (r recipe) coldTemp() Setting {
	if t, ok := r.get(evidence.ColdTemperature); ok {
		return t
	}
	return Num(defaultColdTemp)
}

func (r recipe) trigger() string {
	if t, ok := r.get(evidence.Trigger); ok {
		return t.Category
	}
	return "flooding"
}

// length is the time from the first step to the trigger.
func (r recipe) length() int {
	n := r.inChamber()
	for _, p := range r.phases() {
		n += p.days
	}
	return n
}

// water describes the water of the dish, "" when nothing is set.
func (r recipe) water() string {
	var out []string
	for _, f := range []evidence.Factor{evidence.Conductivity, evidence.Salinity, evidence.PH, evidence.Oxygen} {
		if s, ok := r.get(f); ok {
			name := map[evidence.Factor]string{evidence.PH: "pH ", evidence.Oxygen: "oxygen "}[f]
			out = append(out, name+s.In(f.Unit()))
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " of " + strings.Join(out, ", ")
}

func (r recipe) light() string {
	s, ok := r.get(evidence.Light)
	switch {
	case !ok:
		return ""
	case s.Category == "dark":
		return ", wrapped against light"
	case s.Category == "continuous":
		return ", light on all the time"
	case s.Category != "":
		return ", light and dark for " + s.Category + " hours"
	}
	return fmt.Sprintf(", %s hours of light a day", s)
}

// arrive says what happens on the day the dish comes to its chamber. Eggs that
// are to be triggered by wetting alone stay as they are until the trigger.
func (r recipe) arrive(run Run) string {
	where := fmt.Sprintf("move to %s at %s%s", run.Chamber, Num(run.Temperature).In("degC"), r.light())
	switch {
	case r.coldDays() > 0 && r.water() == "":
		return where
	case r.coldDays() > 0:
		return where + ", change the water to one" + r.water()
	case r.trigger() == "flooding" && r.incubate == 0:
		return where + ", not yet wetted"
	}
	return where + ", wet with water" + r.water()
}

// fire says what the trigger is.
func (r recipe) fire() string {
	switch kind := r.trigger(); kind {
	case "flooding":
		if r.coldDays() > 0 || r.incubate > 0 {
			return "renew the water" + r.water() + " (flooding)"
		}
		return "flood with water" + r.water()
	case "low-oxygen":
		return "close with water low in oxygen"
	case "carbon-dioxide":
		return "give carbon dioxide, in a ventilated place, the dish never sealed under pressure"
	case "temperature-rise", "temperature-drop":
		return "give the " + strings.ReplaceAll(kind, "-", " ") + ", then back to the chamber"
	case "mechanical":
		return "stir or shake the eggs (mechanical trigger)"
	case "light":
		return "give light (trigger)"
	case "salinity-drop", "osmotic":
		return "change to water of lower salt content (" + strings.ReplaceAll(kind, "-", " ") + ")"
	default:
		return "give the trigger: " + strings.ReplaceAll(kind, "-", " ")
	}
}

// steps dates a dish back from its trigger day.
func (r recipe) steps(run Run, trigger Day, lookDays int) []Step {
	day := trigger.Add(-r.length())
	out := []Step{{day, actSetOut, "count the eggs into the dish"}}
	for _, p := range r.phases() {
		out = append(out, Step{day, p.act, p.do})
		day = day.Add(p.days)
	}
	out = append(out, Step{day, actMove, r.arrive(run)})
	for n := 3; n < r.incubate; n += 3 {
		out = append(out, Step{day.Add(n), ActLook, "look before the trigger: count emerged, still in their membrane, and any hatched"})
	}
	out = append(out, Step{trigger, actTrigger, r.fire()})
	looks := lookDaysAfter(lookDays)
	for i, n := range looks {
		do := "look: count emerged and hatched, take the hatched out"
		if i == len(looks)-1 {
			do = "look for the last time: count hatched, emerged, dead and whole eggs"
		}
		out = append(out, Step{trigger.Add(n), ActLook, do})
	}
	return out
}

// lookDaysAfter returns the days after the trigger on which to look: daily at
// first, then every other day, then twice and once a week (common practice, no
// source). The last day is always one of them.
func lookDaysAfter(last int) []int {
	var out []int
	for n := 1; n < last; {
		out = append(out, n)
		switch {
		case n < 5:
			n++
		case n < 11:
			n += 2
		case n < 21:
			n += 3
		default:
			n += 7
		}
	}
	return append(out, last)
}

// schedule dates every run and dish. With the trigger day given it works
// backwards; with the first day given the longest treatment starts on it, or as
// soon after as keeps every handling step off the barred days. All dishes of a
// batch meet their trigger on the same day, or start on the same day.
func (s *settled) schedule(p *Plan, b bench) error {
	offsets := s.triggerOffsets(b)
	handling := b.handlingDays(offsets)
	lead := -handling[0]
	anchor, err := s.triggerDay(handling, lead)
	if err != nil {
		return err
	}
	p.Start, p.End, p.Trigger = anchor.Add(-lead), anchor, Day{}
	for i, at := range b.slots {
		run := &b.runs[at.run]
		trigger := anchor.Add(offsets[i])
		run.Trigger = earliest(run.Trigger, trigger)
		p.Trigger = earliest(p.Trigger, trigger)
		p.Dishes[i].Steps = s.Barred.moveLooks(b.recipe(at).steps(*run, trigger, s.LookDays))
		if last := p.Dishes[i].Steps[len(p.Dishes[i].Steps)-1].Date; p.End.Before(last) {
			p.End = last
		}
	}
	return nil
}

// triggerOffsets returns each dish's trigger day, counted from the first trigger
// or, where all dishes start together, from the first day. A batch waits until
// the chambers of the one before are free and clean.
func (s *settled) triggerOffsets(b bench) []int {
	between, longest := s.LookDays+cleaningDays+max(settleDays, s.Incubate), 0
	for _, at := range b.slots {
		longest = max(longest, b.recipe(at).length())
	}
	out := make([]int, len(b.slots))
	for i, at := range b.slots {
		batch := b.runs[at.run].Batch - 1
		out[i] = batch * between
		if s.Forward {
			out[i] = batch*(longest+s.LookDays+cleaningDays) + b.recipe(at).length()
		}
	}
	return out
}

// earliest returns the earlier of two days; a, when zero, is no day yet.
func earliest(a, b Day) Day {
	if a.IsZero() || b.Before(a) {
		return b
	}
	return a
}

// handlingDays returns the days, counted as the offsets are, on which some dish
// is handled, in rising order.
func (b bench) handlingDays(offsets []int) []int {
	zero := Day{2000, time.January, 1}
	var days []int
	for i, at := range b.slots {
		for _, step := range b.recipe(at).steps(b.runs[at.run], zero.Add(offsets[i]), 1) {
			if n := step.Date.Since(zero); step.Act != ActLook && !slices.Contains(days, n) {
				days = append(days, n)
			}
		}
	}
	slices.Sort(days)
	return days
}

// searchDays is how far a free trigger day is looked for.
const searchDays = 60

// triggerDay finds the first trigger's day.
func (s *settled) triggerDay(handling []int, lead int) (Day, error) {
	free := func(d Day) bool {
		return !slices.ContainsFunc(handling, func(n int) bool { return s.Barred.bars(d.Add(n)) })
	}
	if !s.Trigger.IsZero() {
		if !s.Start.IsZero() && s.Trigger.Since(s.Start) < lead {
			return Day{}, fmt.Errorf("the longest treatment takes %d days, so the trigger day can be %s at the earliest: move it or leave a level out",
				lead, s.Start.Add(lead))
		}
		if free(s.Trigger) {
			return s.Trigger, nil
		}
		hint := "choose another trigger day"
		for n := 1; n <= searchDays; n++ {
			if d := s.Trigger.Add(n); free(d) {
				hint = fmt.Sprintf("%s would do", d)
				break
			}
		}
		return Day{}, fmt.Errorf("with the trigger on %s some dish must be handled on a barred day: %s", s.Trigger, hint)
	}
	for n := range searchDays {
		if d := s.Start.Add(lead + n); free(d) {
			if n > 0 {
				s.assume("the trial starts %s after the first day given, so that no handling falls on a barred day", plural(n, "day"))
			}
			return d, nil
		}
	}
	return Day{}, fmt.Errorf("no start within %d days keeps all handling off the barred days: bar fewer days, or choose lengths that differ by whole weeks", searchDays)
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	if strings.HasSuffix(word, "sh") {
		word += "e"
	}
	return fmt.Sprintf("%d %ss", n, word)
}

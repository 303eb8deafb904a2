package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// Defaults of handling, common practice, no source.
const (
	defaultColdTemp = 4
	freezeDays      = 7
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
	get      func(evidence.Factor) (trial.Setting, bool)
	eggs     int
	lot      string         // or clutch that the eggs are of, "" where they are all one
	incubate int            // days wetted in the chamber before the trigger; 0: only a day to settle
	cold     string         // where the cold-moist period is spent, "" where it is not known
	extra    map[string]int // days by which acts last longer, to keep off barred days
}

func recipeOf(p *trial.Plan, d trial.Dish, incubate int) recipe {
	get := func(f evidence.Factor) (trial.Setting, bool) {
		if s, ok := d.Levels[f]; ok {
			return s, true
		}
		i := slices.IndexFunc(p.Fixed, func(x trial.Fixed) bool { return x.ID == f })
		if i < 0 {
			return trial.Setting{}, false
		}
		return p.Fixed[i].Setting, true
	}
	return recipe{get: get, eggs: d.Eggs, lot: d.Block(), incubate: incubate}
}

// inChamber is how long a dish is in its chamber before the trigger.
func (r recipe) inChamber() int { return max(settleDays, r.incubate) }

// phases returns the pre-treatments in order: stored, dried, frozen, then wetted
// and held cold.
func (r recipe) phases() []phase {
	var out []phase
	add := func(act string, days int, format string, args ...any) {
		if days > 0 {
			days += r.extra[act]
			out = append(out, phase{act, fmt.Sprintf(format, append(args, trial.Plural(days, "day"))...), days})
		}
	}
	add(trial.ActStore, r.days(evidence.StorageLength), "store %s for %s", r.storage())
	add(trial.ActDry, r.days(evidence.Drying), "dry at room temperature for %s")
	if t, ok := r.get(evidence.Freezing); ok && t.Category == "" {
		add(trial.ActFreeze, freezeDays, "freeze at %s for %s", t.In("degC"))
	}
	add(trial.ActChill, r.coldDays(), "wet and hold at %s%s for %s", r.coldTemp().In("degC"), r.coldPlace())
	return out
}

// storage says how eggs are stored: dry, but as they came where drying is a
// treatment of its own, or eggs that are not to dry would have dried by then.
func (r recipe) storage() string {
	if _, ok := r.get(evidence.Drying); ok {
		return "as they came, neither dried nor wetted,"
	}
	return "dry"
}

func (r recipe) setOut() string {
	eggs := trial.Plural(r.eggs, "egg")
	if r.lot != "" {
		eggs += " of " + r.lot
	}
	return "count " + eggs + " into each dish"
}

func (r recipe) coldPlace() string {
	if r.cold == "" {
		return ""
	}
	return " in " + r.cold
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
		return trial.UsualColdDays
	}
	return 0
}

func (r recipe) coldTemp() trial.Setting {
	if t, ok := r.get(evidence.ColdTemperature); ok {
		return t
	}
	return trial.Num(defaultColdTemp)
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
func (r recipe) arrive(run trial.Run) string {
	where := "move to " + run.Chamber
	if at := " at " + trial.Num(run.Temperature).In("degC"); !strings.HasSuffix(where, at) {
		where += at
	}
	where += r.light()
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
		if r.coldDays() == 0 && r.incubate == 0 {
			return "flood with water" + r.water()
		}
		if r.water() == "" {
			return "renew the water (flooding)"
		}
		return "renew the water with one" + r.water() + " (flooding)"
	case "low-oxygen":
		return "fill up with water" + r.water() + ", made low in oxygen, and close"
	case "carbon-dioxide":
		return "give carbon dioxide, in a ventilated place, the dish never sealed under pressure"
	case "temperature-rise", "temperature-drop":
		return "give the " + strings.ReplaceAll(kind, "-", " ") + ", note from what to what, then back to the chamber"
	case "mechanical":
		return "stir or shake the eggs (mechanical trigger)"
	case "light":
		return "give light (trigger)"
	case "salinity-drop", "osmotic":
		return "change to water of lower salt content (" + strings.ReplaceAll(kind, "-", " ") + "), note from what to what"
	default:
		return "give the trigger: " + strings.ReplaceAll(kind, "-", " ")
	}
}

// steps dates a dish back from its trigger day.
func (r recipe) steps(run trial.Run, trigger trial.Day, lookDays int) []trial.Step {
	day := trigger.Add(-r.length())
	out := []trial.Step{{Date: day, Act: trial.ActSetOut, Do: r.setOut()}}
	for _, p := range r.phases() {
		out = append(out, trial.Step{Date: day, Act: p.act, Do: p.do})
		day = day.Add(p.days)
	}
	out = append(out, trial.Step{Date: day, Act: trial.ActMove, Do: r.arrive(run)})
	for n := 3; n < r.incubate; n += 3 {
		out = append(out, trial.Step{Date: day.Add(n), Act: trial.ActLook, Do: "look before the trigger: count emerged, still in their membrane, and any hatched"})
	}
	out = append(out, trial.Step{Date: trigger, Act: trial.ActTrigger, Do: r.fire()})
	looks := lookDaysAfter(lookDays)
	for i, n := range looks {
		do := "look: count emerged and hatched, take the hatched out"
		if i == len(looks)-1 {
			do = "look for the last time: count hatched, emerged and dead; the rest are whole eggs"
		}
		out = append(out, trial.Step{Date: trigger.Add(n), Act: trial.ActLook, Do: do})
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

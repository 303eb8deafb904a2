// Package planform reads the form on which a keeper asks for a trial, and keeps
// what was typed so that it can be shown again beside what is wrong with it.
//
// It refuses numbers and days that are none, each with a sentence beside its
// field; whether the eggs carry a trial is for evidence/trial/design to say.
package planform

import (
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
	"hatchlore/evidence/trial/design"
)

// Fields of the form.
const (
	Taxon        = "taxon"
	Disagreement = "disagreement" // id, once for each disagreement to settle
	Factor       = "factor"       // factors by hand, one a line
	Hold         = "hold"         // settings that all dishes share, one a line
	Eggs         = "eggs"         // on hand, where no lots are chosen
	Lot          = "lot"          // name, once for each lot to draw on
	EggsOf       = "eggs-of:"     // with the name of a lot behind it
	Clutches     = "clutches"     // of no lot, with their eggs, one a line
	ClutchesOf   = "clutches-of:" // with the name of a lot behind it
	KeepBack     = "keep-back"
	Dishes       = "dishes"
	EggsPerDish  = "eggs-per-dish"
	Chambers     = "chambers"
	Runs         = "runs"
	When         = "when" // what Day is: start or trigger
	Day          = "day"
	Forward      = "forward"
	Look         = "look"
	Incubate     = "incubate"
	BarredDay    = "barred-day" // a weekday, once for each
	BarredDates  = "barred-dates"
	Base         = "base"       // per cent
	Likeness     = "likeness"   // correlation within dishes
	Difference   = "difference" // per cent points
	Seed         = "seed"
	Name         = "name"
	Sent         = "sent" // set once the form was sent: nothing chosen then means nothing
)

// Start and OnTrigger are the values of When.
const (
	Start     = "start"
	OnTrigger = "trigger"
)

// Form is what was typed and, after Request, what is wrong with it.
type Form struct {
	values   url.Values
	problems map[string]string
}

// Read takes the values of a form. Fields that were never sent get a start:
// the day is today, and so is the seed, for two trials under way should not
// have the same labels.
func Read(values url.Values, today trial.Day) *Form {
	f := &Form{values: url.Values{}, problems: map[string]string{}}
	for name, list := range values {
		for _, v := range list {
			f.values.Add(name, strings.TrimSpace(v))
		}
	}
	if f.Fresh() {
		f.fill(When, Start)
		f.fill(Day, today.String())
		f.fill(Seed, strings.ReplaceAll(today.String(), "-", ""))
	}
	return f
}

func (f *Form) fill(name, value string) {
	if f.Get(name) == "" {
		f.values.Set(name, value)
	}
}

// Fresh reports whether the form was not sent yet.
func (f *Form) Fresh() bool { return f.values.Get(Sent) == "" }

// Get returns what was typed into a field.
func (f *Form) Get(name string) string { return f.values.Get(name) }

// All returns the values of a field that may have several.
func (f *Form) All(name string) []string { return f.values[name] }

// Has reports whether a value was chosen in a field.
func (f *Form) Has(name, value string) bool { return slices.Contains(f.values[name], value) }

// Choose chooses a value of a field.
func (f *Form) Choose(name, value string) {
	if !f.Has(name, value) {
		f.values.Add(name, value)
	}
}

// Problem returns what is wrong with a field, "" where nothing is.
func (f *Form) Problem(name string) string { return f.problems[name] }

// Blame notes what is wrong with a field.
func (f *Form) Blame(name string, err error) { f.problems[name] = err.Error() }

// Wrong reports whether something is.
func (f *Form) Wrong() bool { return len(f.problems) > 0 }

// EggsKnown reports whether the form says how many eggs there are.
func (f *Form) EggsKnown() bool {
	return f.Get(Eggs) != "" || f.Get(Clutches) != "" || len(f.All(Lot)) > 0
}

// Field is a field with one of its values.
type Field struct{ Name, Value string }

// Fields returns all that was typed, by name, to be sent on unseen.
func (f *Form) Fields() []Field {
	var out []Field
	for _, name := range slices.Sorted(maps.Keys(f.values)) {
		for _, v := range f.values[name] {
			if v != "" {
				out = append(out, Field{name, v})
			}
		}
	}
	return out
}

// Request turns the form into what the planner takes. The questions come from
// the library; so do the eggs of lots for which no number was typed, which have
// 0 here. Problems tell what could not be read.
func (f *Form) Request() design.Request {
	req := design.Request{Trial: f.Get(Name), Taxon: f.Get(Taxon), Forward: f.Get(Forward) != ""}
	if strings.ContainsAny(req.Trial, " \t/\\%?#") || req.Trial != "" && strings.Trim(req.Trial, ".") == "" {
		f.problems[Name] = "a name has letters, digits and hyphens only"
	}
	f.eggs(&req)
	req.Dishes = f.whole(Dishes, 1)
	req.EggsPerDish = f.whole(EggsPerDish, 1)
	req.Runs = f.whole(Runs, 1)
	req.LookDays = f.whole(Look, 1)
	req.Incubate = f.whole(Incubate, 0)
	req.BaseFraction = f.share(Base, 100)
	req.Difference = f.share(Difference, 100)
	if f.Get(Likeness) != "" {
		rho := f.share(Likeness, 1)
		req.Rho = &rho
	}
	if word := f.Get(Seed); word != "" {
		var err error
		if req.Seed, err = strconv.ParseUint(word, 10, 64); err != nil {
			f.problems[Seed] = fmt.Sprintf("a seed is a whole number, not %q", word)
		}
	}
	f.factors(&req)
	f.days(&req)
	return req
}

func (f *Form) eggs(req *design.Request) {
	for _, name := range f.All(Lot) {
		if clutches := f.clutches(ClutchesOf+name, EggsOf+name, name); clutches != nil {
			req.Lots = append(req.Lots, clutches...)
			continue
		}
		req.Lots = append(req.Lots, trial.Lot{Name: name, Eggs: f.whole(EggsOf+name, 1)})
	}
	if len(f.All(Lot)) == 0 {
		if req.Lots = f.clutches(Clutches, Eggs, ""); req.Lots == nil {
			req.Eggs = f.whole(Eggs, 1)
		}
	}
	if f.Get(KeepBack) != "" {
		n := f.whole(KeepBack, 0)
		req.KeepBack = &n
	}
}

// clutches reads the clutches of a lot, or of none, from the lines of a field:
// a name, the sign = and eggs. The eggs of all together, in another field, are
// then not asked for.
func (f *Form) clutches(field, together, lot string) []trial.Lot {
	var out []trial.Lot
	for line := range strings.Lines(f.Get(field)) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		name, number, _ := strings.Cut(line, "=")
		name = strings.TrimSpace(name)
		n, err := strconv.Atoi(strings.TrimSpace(number))
		switch {
		case err != nil || n < 1 || n > mostWhole || name == "":
			f.problems[field] = fmt.Sprintf("a clutch is told by its name and its eggs, such as female 1 = 30, not %q", line)
		case slices.ContainsFunc(out, func(l trial.Lot) bool { return l.Clutch == name }):
			f.problems[field] = fmt.Sprintf("the clutch %s stands here twice", name)
		}
		out = append(out, trial.Lot{Name: lot, Clutch: name, Eggs: n})
	}
	if out != nil && f.Get(together) != "" {
		f.problems[together] = "the eggs are told clutch by clutch; leave this empty, or name no clutch"
	}
	return out
}

// mostWhole bounds every number of the form; whatever is bounded lower has its
// own sentence.
const mostWhole = trial.MostCounted

// whole reads a number; an empty field is 0, which leaves it to the planner.
func (f *Form) whole(name string, least int) int {
	word := f.Get(name)
	if word == "" {
		return 0
	}
	n, err := strconv.Atoi(word)
	switch {
	case err != nil:
		f.problems[name] = fmt.Sprintf("%q is no whole number", word)
	case n < least:
		f.problems[name] = fmt.Sprintf("this takes %d or more, not %d", least, n)
	case n > mostWhole:
		f.problems[name] = fmt.Sprintf("%d is more than %d", n, mostWhole)
	default:
		return n
	}
	return 0
}

// share reads a part of a whole; an empty field is 0. A comma may stand for
// the point, and the sign of per cent behind the number.
func (f *Form) share(name string, whole float64) float64 {
	word := strings.Replace(strings.TrimSpace(strings.TrimSuffix(f.Get(name), "%")), ",", ".", 1)
	if word == "" {
		return 0
	}
	v, err := strconv.ParseFloat(word, 64)
	if err != nil || !(v >= 0 && v < whole) {
		f.problems[name] = fmt.Sprintf("this takes a number from 0 to below %v, not %q", whole, f.Get(name))
		return 0
	}
	return v / whole
}

func (f *Form) factors(req *design.Request) {
	req.Factors = readLines(f, Factor, trial.ParseFactor)
	req.Held = readLines(f, Hold, trial.ParseHeld)
	var err error
	if req.Chambers, err = trial.ParseChambers(split(f.Get(Chambers))); err != nil {
		f.problems[Chambers] = err.Error()
	}
}

// readLines reads the lines of a field, up to the first that is wrong.
func readLines[T any](f *Form, field string, parse func(string) (T, error)) []T {
	var out []T
	for line := range strings.Lines(f.Get(field)) {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		v, err := parse(line)
		if err != nil {
			f.problems[field] = line + ": " + err.Error()
			break
		}
		out = append(out, v)
	}
	return out
}

func (f *Form) days(req *design.Request) {
	day, err := trial.ParseDay(f.Get(Day))
	switch {
	case f.Get(Day) == "":
		f.problems[Day] = "say on which day, as 2026-01-31"
	case err != nil:
		f.problems[Day] = err.Error()
	case f.Get(When) == OnTrigger:
		req.Trigger = day
	default:
		req.Start = day
	}
	if req.Forward && f.Get(When) == OnTrigger {
		f.problems[Forward] = "dishes that all start on one day meet their triggers on different days: give the first day, or take this back"
	}
	barred := slices.Concat(f.All(BarredDay), split(f.Get(BarredDates)))
	if req.Barred, err = bench.ParseBarred(strings.Join(barred, ",")); err != nil {
		f.problems[BarredDates] = err.Error()
	}
}

// split reads what is separated by commas, semicolons or lines.
func split(s string) []string {
	var out []string
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(",;\n\r", r) }) {
		if word = strings.TrimSpace(word); word != "" {
			out = append(out, word)
		}
	}
	return out
}

package trial

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
)

// Factor is a condition that differs between the dishes of a trial.
type Factor struct {
	ID        evidence.Factor `json:"factor"`
	Unit      string          `json:"unit"`
	Levels    []Setting       `json:"levels"` // the first is the baseline
	Claims    []string        `json:"claims"`
	Control   *Setting        `json:"control,omitempty"` // its setting in the added control dishes
	WholePlot bool            `json:"whole_plot"`        // set for a chamber run, not for a dish
	Conflicts []string        `json:"conflicts"`         // the questions that it stands for
}

// MostLevels is the most levels that a factor of a trial may have.
const MostLevels = 12

// WholePlotFactor reports whether a factor belongs to a chamber rather than a dish.
func WholePlotFactor(f evidence.Factor) bool {
	return f == evidence.WarmTemperature || f == evidence.ColdTemperature
}

// ParseFactor reads a factor as the command line has it: drying=0,14 or
// trigger=flooding,carbon-dioxide. Numbers are in the factor's canonical unit.
// One level alone means "against untreated eggs" where a factor has such a
// level, and a condition fixed for all dishes where it has not.
func ParseFactor(s string) (Factor, error) {
	f, err := parseLevels(s)
	if err != nil {
		return Factor{}, err
	}
	if none, ok := Untreated(f.ID); ok && len(f.Levels) == 1 && f.Levels[0] != none {
		f.Levels = append(f.Levels, none)
	}
	slices.SortStableFunc(f.Levels, CompareSettings(f.ID))
	return f, nil
}

// ParseSettable reads the name of a factor that can be set.
func ParseSettable(name string) (evidence.Factor, error) {
	id := evidence.Factor(strings.TrimSpace(name))
	switch m, known := evidence.MeasureOf(id); {
	case !known:
		return "", fmt.Errorf("%q is no factor: choose among %s", id, strings.Join(plannable(), ", "))
	case m.Outcome:
		return "", fmt.Errorf("%s is counted, not set: it cannot be a factor of a trial", id)
	}
	return id, nil
}

// parseLevels reads a factor with the levels that are named, in their order.
func parseLevels(s string) (Factor, error) {
	name, list, ok := strings.Cut(s, "=")
	if !ok {
		return Factor{}, fmt.Errorf("factor %q has no levels: write it as drying=0,14", s)
	}
	id, err := ParseSettable(name)
	if err != nil {
		return Factor{}, err
	}
	m, _ := evidence.MeasureOf(id)
	f := Factor{ID: id, Unit: id.Unit(), WholePlot: WholePlotFactor(id)}
	for word := range strings.SplitSeq(list, ",") {
		set, err := parseSetting(m, strings.TrimSpace(word))
		if err != nil {
			return Factor{}, err
		}
		if slices.Contains(f.Levels, set) {
			return Factor{}, fmt.Errorf("factor %s has the level %s twice", id, set)
		}
		f.Levels = append(f.Levels, set)
	}
	if len(f.Levels) > MostLevels {
		return Factor{}, fmt.Errorf("factor %s has %d levels: take at most %d", id, len(f.Levels), MostLevels)
	}
	return f, nil
}

// AllLevels returns the levels of the factor with that of the added control.
func (f Factor) AllLevels() []Setting {
	out := slices.Clone(f.Levels)
	if f.Control != nil && !slices.Contains(out, *f.Control) {
		out = append([]Setting{*f.Control}, out...)
	}
	return out
}

func plannable() []string {
	var out []string
	for _, m := range evidence.Measures() {
		if !m.Outcome {
			out = append(out, string(m.Factor))
		}
	}
	return out
}

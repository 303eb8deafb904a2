package evidence

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// Problem is one thing wrong with a claim, by the name of its JSON field.
type Problem struct {
	Field string
	What  string
}

func (p Problem) String() string { return p.Field + ": " + p.What }

// Lint lists every problem of c; a sound claim has none.
func (c Claim) Lint() []Problem {
	var out []Problem
	bad := func(field, format string, args ...any) {
		out = append(out, Problem{field, fmt.Sprintf(format, args...)})
	}
	m, known := MeasureOf(c.Factor)
	if !known {
		bad("factor", "unknown factor %q", c.Factor)
	}
	if !slices.Contains([]Bearing{Favours, Prevents, Indifferent, Reported}, c.Bearing) {
		bad("bearing", "unknown bearing %q: choose favours, prevents, indifferent or reported", c.Bearing)
	}
	if !slices.Contains([]Stage{StageUnsaid, StageEmergence, StageHatching}, c.Stage) {
		bad("stage", "unknown stage %q", c.Stage)
	}
	if c.Page < 1 {
		bad("page", "pages count from 1, not %d", c.Page)
	}
	if c.Quote == "" {
		bad("quote", "no quote")
	} else if n := utf8.RuneCountInString(c.Quote); c.Start < 0 || c.End-c.Start != n {
		bad("end", "span %d to %d does not fit a quote of %d characters", c.Start, c.End, n)
	}
	if c.Score < 0 || c.Score > 1 {
		bad("score", "%v is outside 0 to 1", c.Score)
	}
	c.lintEntries(bad)
	if known {
		c.lintValue(m, bad)
	}
	return out
}

func (c Claim) lintEntries(bad func(field, format string, args ...any)) {
	if len(c.Entries) > 0 && !c.Secondhand {
		bad("entries", "a finding of the paper's own cites nobody")
	}
	for i, e := range c.Entries {
		if e.Place < 1 || e.Printed == "" {
			bad("entries", "entry %d has no place or no words", i+1)
		}
	}
}

func (c Claim) lintValue(m Measure, bad func(field, format string, args ...any)) {
	number := c.Low != nil || c.High != nil
	if !number && c.Category == "" {
		bad("low", "neither a number nor a category")
	}
	if number && !slices.Contains(m.Units, c.Unit) {
		bad("unit", "%q is not a unit of %s", c.Unit, m.Factor)
	}
	if !number && c.Unit != "" {
		bad("unit", "a unit without a number")
	}
	if c.Low != nil && c.High != nil && *c.Low > *c.High {
		bad("high", "%v is below the low end %v", *c.High, *c.Low)
	}
	if c.Category != "" && !slices.Contains(m.Categories, c.Category) && !(m.Factor == Light && isRatio(c.Category)) {
		bad("category", "%q is not a category of %s%s", c.Category, m.Factor, choices(m.Categories))
	}
	if number && c.Printed == "" && !c.Implied {
		bad("printed", "a number without its printed form")
	}
}

// choices ends a message with the words that may be chosen.
func choices(words []string) string {
	if len(words) == 0 {
		return ", which has none"
	}
	return ": choose among " + strings.Join(words, ", ")
}

// isRatio reports whether s is a light to dark ratio in hours such as 12:12.
func isRatio(s string) bool {
	var light, dark float64
	n, err := fmt.Sscanf(s, "%g:%g", &light, &dark)
	return err == nil && n == 2 && light >= 0 && dark >= 0 && light+dark > 0
}

package bench

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"hatchlore/evidence/trial"
)

// Barred are the days on which the keeper does not handle dishes.
type Barred struct {
	Weekdays []time.Weekday
	Days     []trial.Day
}

// ParseBarred reads weekdays and dates, such as sat,sun,2026-12-25.
func ParseBarred(s string) (Barred, error) {
	var b Barred
	for word := range strings.SplitSeq(s, ",") {
		word = strings.ToLower(strings.TrimSpace(word))
		if word == "" {
			continue
		}
		if d, ok := weekday(word); ok {
			b.Weekdays = append(b.Weekdays, d)
			continue
		}
		day, err := trial.ParseDay(word)
		if err != nil {
			return Barred{}, fmt.Errorf("%q is neither a weekday nor a date: write sat, sunday or 2026-12-25", word)
		}
		b.Days = append(b.Days, day)
	}
	if len(distinctWeekdays(b.Weekdays)) == 7 {
		return Barred{}, fmt.Errorf("every day of the week is barred: leave at least one free")
	}
	return b, nil
}

// weekday reads a weekday's name or its first three letters or more.
func weekday(word string) (time.Weekday, bool) {
	for d := time.Sunday; d <= time.Saturday; d++ {
		if len(word) >= 3 && strings.HasPrefix(strings.ToLower(d.String()), word) {
			return d, true
		}
	}
	return 0, false
}

func distinctWeekdays(ds []time.Weekday) []time.Weekday {
	out := slices.Clone(ds)
	slices.Sort(out)
	return slices.Compact(out)
}

// Bars reports whether dishes are not handled on d.
func (b Barred) Bars(d trial.Day) bool {
	return slices.Contains(b.Weekdays, d.Weekday()) || slices.Contains(b.Days, d)
}

// moveLooks puts looks off to the next free day; two that meet become one.
func (b Barred) moveLooks(steps []trial.Step) []trial.Step {
	var out []trial.Step
	for _, s := range steps {
		if s.Act == trial.ActLook {
			for n := 0; b.Bars(s.Date) && n < searchDays; n++ {
				s.Date = s.Date.Add(1)
			}
			if last := len(out) - 1; out[last].Act == trial.ActLook && out[last].Date == s.Date {
				out[last] = s
				continue
			}
		}
		out = append(out, s)
	}
	return out
}

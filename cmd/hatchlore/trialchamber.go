package main

import (
	"fmt"
	"strconv"
	"strings"

	"hatchlore/evidence/trial"
)

// parseChambers reads temperatures that chambers can hold: 12 or 4-20 or
// name:4-20.
func parseChambers(list []string) ([]trial.Chamber, error) {
	var out []trial.Chamber
	for i, s := range list {
		c := trial.Chamber{Name: fmt.Sprintf("chamber %c", 'A'+i%26)}
		if i >= 26 {
			return nil, usagef("--chambers takes at most 26")
		}
		value := strings.TrimSpace(s)
		if name, v, ok := strings.Cut(value, ":"); ok && strings.TrimSpace(name) != "" {
			c.Name, value = strings.TrimSpace(name), v
		}
		var err error
		if c.Low, c.High, err = parseSpan(value); err != nil {
			return nil, usagef("--chambers takes °C such as 5,12 or 4-20, not %q", s)
		}
		out = append(out, c)
	}
	return out, nil
}

// parseSpan reads a number or two numbers with a hyphen; either may be below
// zero.
func parseSpan(s string) (low, high float64, err error) {
	s = strings.TrimSpace(s)
	if low, err = strconv.ParseFloat(s, 64); err == nil {
		return low, low, nil
	}
	i := strings.Index(s[min(1, len(s)):], "-") + 1
	if i < 1 {
		return 0, 0, err
	}
	if low, err = strconv.ParseFloat(strings.TrimSpace(s[:i]), 64); err != nil {
		return 0, 0, err
	}
	if high, err = strconv.ParseFloat(strings.TrimSpace(s[i+1:]), 64); err != nil {
		return 0, 0, err
	}
	if low > high {
		return 0, 0, strconv.ErrRange
	}
	return low, high, nil
}

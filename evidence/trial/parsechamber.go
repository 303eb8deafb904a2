package trial

import (
	"fmt"
	"strconv"
	"strings"
)

// MostChambers is the most chambers that a trial may have: they are named by
// letters.
const MostChambers = 26

// ParseChambers reads the temperatures in °C that chambers can hold: 12 for one
// that stands at 12 °C, 4-20 for one that can be set, each with or without a
// name before it, as in "tall fridge:4-8".
func ParseChambers(list []string) ([]Chamber, error) {
	if len(list) > MostChambers {
		return nil, fmt.Errorf("%d chambers are more than the %d that a plan can name", len(list), MostChambers)
	}
	var out []Chamber
	for i, s := range list {
		c := Chamber{Name: fmt.Sprintf("chamber %c", 'A'+i)}
		value := strings.TrimSpace(s)
		if name, v, ok := strings.Cut(value, ":"); ok && strings.TrimSpace(name) != "" {
			c.Name, value = strings.TrimSpace(name), v
		}
		var err error
		if c.Low, c.High, err = ParseSpan(value); err != nil {
			return nil, fmt.Errorf("a chamber holds °C such as 5 or 4-20, not %q", s)
		}
		if err := c.Check(); err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

// Check refuses temperatures that no chamber for eggs holds (from experience, no
// source).
func (c Chamber) Check() error {
	const least, most = -30, 60
	if !(c.Low <= c.High) || c.Low < least || c.High > most {
		return fmt.Errorf("%s cannot hold %v to %v °C: a chamber holds %d to %d °C", c.Name, c.Low, c.High, least, most)
	}
	return nil
}

// ParseSpan reads a number or two numbers with a hyphen; either may be below
// zero.
func ParseSpan(s string) (low, high float64, err error) {
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

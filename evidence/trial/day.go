package trial

import (
	"fmt"
	"time"
)

// Day is a date of the calendar without time of day or zone. The zero Day is no
// day at all.
type Day struct {
	Year  int
	Month time.Month
	Date  int
}

// ParseDay reads an ISO 8601 date such as 2026-01-10. It refuses other orders:
// 2/4/95 is two days in two countries.
func ParseDay(s string) (Day, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		return Day{}, fmt.Errorf("%q is not a date: write it as 2026-01-31", s)
	}
	return DayOf(t), nil
}

// DayOf returns the day on which t falls in its own zone.
func DayOf(t time.Time) Day {
	y, m, d := t.Date()
	return Day{y, m, d}
}

// Time returns midnight UTC of d.
func (d Day) Time() time.Time { return time.Date(d.Year, d.Month, d.Date, 0, 0, 0, 0, time.UTC) }

// IsZero reports whether d is no day.
func (d Day) IsZero() bool { return d == Day{} }

// Add returns the day n days after d; n may be negative.
func (d Day) Add(n int) Day { return DayOf(d.Time().AddDate(0, 0, n)) }

// Since returns the number of days from e to d.
func (d Day) Since(e Day) int { return int(d.Time().Sub(e.Time()) / (24 * time.Hour)) }

// Before reports whether d is earlier than e.
func (d Day) Before(e Day) bool { return d.Time().Before(e.Time()) }

// Weekday returns the day of the week.
func (d Day) Weekday() time.Weekday { return d.Time().Weekday() }

func (d Day) String() string {
	if d.IsZero() {
		return ""
	}
	return d.Time().Format(time.DateOnly)
}

// MarshalText writes the day as 2026-01-10.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (d *Day) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = Day{}
		return nil
	}
	got, err := ParseDay(string(b))
	if err == nil {
		*d = got
	}
	return err
}

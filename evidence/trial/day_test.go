package trial

import (
	"fmt"
	"testing"
)

func TestDays(t *testing.T) {
	// ISO 8601 calendar arithmetic.
	for _, tt := range []struct {
		from Day
		n    int
		want string
	}{{Day{2024, 2, 1}, 28, "2024-02-29"}, {Day{2026, 11, 25}, 90, "2027-02-23"}, {Day{2026, 3, 1}, -1, "2026-02-28"}} {
		d := tt.from.Add(tt.n)
		if d.String() != tt.want || d.Since(tt.from) != tt.n {
			t.Errorf("%s + %d = %s, want %s", tt.from, tt.n, d, tt.want)
		}
		var back Day
		if b, _ := d.MarshalText(); back.UnmarshalText(b) != nil || back != d {
			t.Errorf("%s reads back as %s", d, back)
		}
	}
	for _, bad := range []string{"2/4/95", "2026-13-01", "2026-02-30", "tomorrow"} {
		if _, err := ParseDay(bad); err == nil {
			t.Errorf("%q passes", bad)
		}
	}
	if fmt.Sprint(Day{}) != "" {
		t.Error("no day prints as something")
	}
}

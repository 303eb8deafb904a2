package bench

import (
	"slices"
	"testing"
	"time"

	"hatchlore/evidence/trial"
)

func TestParseBarred(t *testing.T) {
	b, err := ParseBarred("sat, Sunday,2026-12-25")
	if err != nil || !slices.Equal(b.Weekdays, []time.Weekday{time.Saturday, time.Sunday}) || !slices.Equal(b.Days, []trial.Day{{Year: 2026, Month: 12, Date: 25}}) {
		t.Errorf("got %+v, %v", b, err)
	}
	for _, bad := range []string{"xmas", "su", "2/4/95", "mon,tue,wed,thu,fri,sat,sun"} {
		if _, err := ParseBarred(bad); err == nil {
			t.Errorf("%q passes", bad)
		}
	}
}

func FuzzParseBarred(f *testing.F) {
	f.Add("sat,sun,2026-12-25")
	f.Fuzz(func(t *testing.T, s string) {
		b, err := ParseBarred(s)
		if err != nil {
			return
		}
		free := false
		for n := range 7 + len(b.Days) {
			free = free || !b.Bars(trial.Day{Year: 2026, Month: 1, Date: 10}.Add(n))
		}
		if !free {
			t.Errorf("%q bars every day", s)
		}
	})
}

package trial

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestParseBarred(t *testing.T) {
	b, err := ParseBarred("sat, Sunday,2026-12-25")
	if err != nil || !slices.Equal(b.Weekdays, []time.Weekday{time.Saturday, time.Sunday}) || !slices.Equal(b.Days, []Day{{2026, 12, 25}}) {
		t.Errorf("got %+v, %v", b, err)
	}
	for _, bad := range []string{"xmas", "su", "2/4/95", "mon,tue,wed,thu,fri,sat,sun"} {
		if _, err := ParseBarred(bad); err == nil {
			t.Errorf("%q passes", bad)
		}
	}
}

func TestBarredDays(t *testing.T) {
	weekend, _ := ParseBarred("sat,sun")
	req := Request{Eggs: 400, Start: start, Barred: weekend, // a Saturday
		Factors: []Factor{factor(t, "drying=0,14"), factor(t, "stratification-length=0,30")}}
	p, err := New(req)
	if err != nil {
		t.Fatal(err)
	}
	if p.Start.Before(start) || !strings.Contains(strings.Join(p.Assumed, " "), "barred day") {
		t.Errorf("starts on %s; %q", p.Start, p.Assumed)
	}
	checkBarred(t, req.Barred, p)
	req.Start, req.Trigger = Day{}, Day{2026, 3, 7}
	if _, err := New(req); err == nil || !strings.Contains(err.Error(), "would do") {
		t.Errorf("trigger on a Saturday: %v", err)
	}
	// Lengths with every remainder of a week leave no day that suits all.
	req.Trigger, req.Start = Day{}, start
	req.Dishes, req.Eggs = 48, 1000
	req.Factors = []Factor{factor(t, "stratification-length=0,30,31,32,33,34,35,36")}
	if _, err := New(req); err == nil || !strings.Contains(err.Error(), "whole weeks") {
		t.Errorf("lengths over a whole week: %v", err)
	}
}

func checkBarred(t *testing.T, b Barred, p *Plan) {
	t.Helper()
	for _, d := range p.Dishes {
		for _, s := range d.Steps {
			if b.bars(s.Date) {
				t.Errorf("dish %d: %s on %s, a barred day", d.Dish, s.Act, s.Date)
			}
		}
	}
}

func TestBarredProperty(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	plans := 0
	for range 500 {
		req := randomRequest(t, r)
		for range r.IntN(3) {
			req.Barred.Weekdays = append(req.Barred.Weekdays, time.Weekday(r.IntN(7)))
		}
		for range r.IntN(5) {
			req.Barred.Days = append(req.Barred.Days, start.Add(r.IntN(100)))
		}
		if p, err := layOnly(req); err == nil {
			plans++
			checkBarred(t, req.Barred, p)
			checkDates(t, req, p)
		}
		if t.Failed() {
			t.Fatalf("%+v", req)
		}
	}
	if plans < 100 {
		t.Errorf("%d plans test too little", plans)
	}
}

func TestWhatIfs(t *testing.T) {
	rows, err := WhatIfs(Request{Start: start, Factors: []Factor{factor(t, "drying=0,14"), factor(t, "light=dark,12:12")}}, []int{20, 120, 240, 480})
	if err != nil {
		t.Fatal(err)
	}
	if rows[0].Refusal == "" || rows[1].Refusal != "" {
		t.Errorf("rows %+v", rows[:2])
	}
	for i := 2; i < 4; i++ {
		if rows[i].Power[0].Power < rows[i-1].Power[0].Power {
			t.Errorf("%d eggs promise %v, %d promise %v", rows[i].Eggs, rows[i].Power[0], rows[i-1].Eggs, rows[i-1].Power[0])
		}
	}
	if _, err := WhatIfs(Request{}, []int{0}); err == nil {
		t.Error("no eggs pass")
	}
}

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

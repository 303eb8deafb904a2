package design

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/bench"
)

func TestBarredDays(t *testing.T) {
	weekend, _ := bench.ParseBarred("sat,sun")
	req := Request{Eggs: 400, Start: start, Barred: weekend, // a Saturday
		Factors: []trial.Factor{parse(t, "drying=0,14"), parse(t, "stratification-length=0,30")}}
	p, err := New(req)
	if err != nil {
		t.Fatal(err)
	}
	if p.Start.Before(start) || !strings.Contains(strings.Join(p.Assumed, " "), "barred day") {
		t.Errorf("starts on %s; %q", p.Start, p.Assumed)
	}
	checkBarred(t, req.Barred, p)
	req.Start, req.Trigger = trial.Day{}, trial.Day{Year: 2026, Month: 3, Date: 7}
	if _, err := New(req); err == nil || !strings.Contains(err.Error(), "would do") {
		t.Errorf("trigger on a Saturday: %v", err)
	}
	// Lengths with every remainder of a week leave no day that suits all.
	req.Trigger, req.Start = trial.Day{}, start
	req.Dishes, req.Eggs = 48, 1000
	req.Factors = []trial.Factor{parse(t, "stratification-length=0,2,3,4,5,6,7,8")}
	if _, err := New(req); err == nil || !strings.Contains(err.Error(), "whole weeks") {
		t.Errorf("lengths over a whole week: %v", err)
	}
}

// Long treatments make room for barred days by lasting a little longer, which
// the plan says; the dates stay true to the words of the steps.
func TestStretchedForBarredDays(t *testing.T) {
	sunday, err := bench.ParseBarred("sun")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(Request{Eggs: 400, Start: start, Barred: sunday, Factors: []trial.Factor{
		parse(t, "stratification-length=20,30,31,32,33,34,35"), parse(t, "drying=0,10")}})
	if err != nil {
		t.Fatal(err)
	}
	checkBarred(t, sunday, p)
	if said := strings.Join(p.Assumed, " "); !strings.Contains(said, "last a little longer") || !strings.Contains(said, "days, not") {
		t.Errorf("assumed %q", said)
	}
	for _, d := range p.Dishes {
		for i, s := range d.Steps[:len(d.Steps)-1] {
			var days int
			if n := strings.LastIndex(s.Do, " for "); s.Act == trial.ActChill || s.Act == trial.ActDry {
				fmt.Sscan(s.Do[n+5:], &days)
				if got := d.Steps[i+1].Date.Since(s.Date); got != days {
					t.Errorf("dish %d: %q, but the next step comes after %d days", d.Dish, s.Do, got)
				}
			}
		}
	}
}

func checkBarred(t *testing.T, b bench.Barred, p *trial.Plan) {
	t.Helper()
	for _, d := range p.Dishes {
		for _, s := range d.Steps {
			if b.Bars(s.Date) {
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
			checkChambersFree(t, p)
		}
		if t.Failed() {
			t.Fatalf("%+v", req)
		}
	}
	if plans < 100 {
		t.Errorf("%d plans test too little", plans)
	}
}

// checkChambersFree: no dish comes to a chamber before the last look at those of
// the batch before it.
func checkChambersFree(t *testing.T, p *trial.Plan) {
	t.Helper()
	left := map[string]trial.Day{} // by chamber and batch
	for _, d := range p.Dishes {
		key := fmt.Sprint(d.Chamber, " ", p.Runs[d.Run-1].Batch)
		if left[key].IsZero() || left[key].Before(d.LastLook()) {
			left[key] = d.LastLook()
		}
	}
	for _, d := range p.Dishes {
		before := fmt.Sprint(d.Chamber, " ", p.Runs[d.Run-1].Batch-1)
		i := slices.IndexFunc(d.Steps, func(s trial.Step) bool { return s.Act == trial.ActMove })
		if end, ok := left[before]; ok && !end.Before(d.Steps[i].Date) {
			t.Errorf("dish %d comes to %s on %s, which is looked at until %s", d.Dish, d.Chamber, d.Steps[i].Date, end)
		}
	}
}

package planform

import (
	"net/url"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

var today = trial.Day{Year: 2026, Month: 3, Date: 9}

func TestFreshForm(t *testing.T) {
	f := Read(url.Values{Taxon: {" Nova alba "}}, today)
	req := f.Request()
	if f.Wrong() || req.Taxon != "Nova alba" || req.Start != today || req.Seed != 20260309 || f.EggsKnown() {
		t.Errorf("%+v, wrong: %v", req, f.Wrong())
	}
	if sent := Read(url.Values{Sent: {"1"}}, today); sent.Get(Day) != "" {
		t.Error("a form that was sent without a day got one")
	}
}

func TestRequest(t *testing.T) {
	f := Read(url.Values{
		Sent: {"1"}, Taxon: {"Nova alba"}, Lot: {"moor", "fen"}, EggsOf + "fen": {"40"}, Eggs: {"999"}, KeepBack: {"0"}, Dishes: {"20"}, EggsPerDish: {"8"},
		Chambers: {"5; tall: 4-8\n12"}, Runs: {"2"}, When: {OnTrigger}, Day: {"2026-04-01"}, Look: {"10"}, Incubate: {"3"}, BarredDay: {"Sat", "Sun"},
		BarredDates: {"2026-04-03"}, Base: {"12,5 %"}, Difference: {"25"}, Likeness: {"0"}, Seed: {"7"}, Name: {"spring"}, Factor: {"drying=0,14\n\ntrigger=flooding,light"}, Hold: {"stratification-length=60\r\n"},
	}, today)
	r := f.Request()
	if f.Wrong() {
		t.Fatalf("%v", f.problems)
	}
	lots := []trial.Lot{{Name: "moor"}, {Name: "fen", Eggs: 40}}
	if !slices.Equal(r.Lots, lots) || r.Eggs != 0 || *r.KeepBack != 0 || r.Dishes != 20 || r.EggsPerDish != 8 || r.Runs != 2 || r.LookDays != 10 || r.Incubate != 3 {
		t.Errorf("%+v", r)
	}
	if len(r.Chambers) != 3 || r.Chambers[1] != (trial.Chamber{Name: "tall", Low: 4, High: 8}) {
		t.Errorf("chambers %+v", r.Chambers)
	}
	if r.Trigger.String() != "2026-04-01" || !r.Start.IsZero() || len(r.Barred.Weekdays) != 2 || len(r.Barred.Days) != 1 {
		t.Errorf("days %+v", r)
	}
	if r.BaseFraction != 0.125 || r.Difference != 0.25 || r.Rho == nil || *r.Rho != 0 || r.Seed != 7 || r.Trial != "spring" {
		t.Errorf("odds %+v", r)
	}
	if len(r.Factors) != 2 || r.Factors[0].ID != evidence.Drying {
		t.Errorf("factors %+v", r.Factors)
	}
	if len(r.Held) != 1 || r.Held[0].ID != evidence.ColdLength || r.Held[0].Setting != trial.Num(60) {
		t.Errorf("held %+v", r.Held)
	}
}

// What cannot be read is said at its own field, and the others stand as typed.
func TestProblems(t *testing.T) {
	for _, c := range []struct{ field, typed, says string }{
		{Eggs, "many", "no whole number"},
		{Eggs, "0", "1 or more"},
		{Eggs, "99999999", "more than"},
		{KeepBack, "-1", "0 or more"},
		{Chambers, "warm", "a chamber holds"},
		{Day, "9.3.2026", "not a date"},
		{Day, "", "on which day"},
		{BarredDates, "soon", "neither a weekday nor a date"},
		{Base, "100", "below 100"},
		{Base, "NaN", "below 100"},
		{Likeness, "1", "below 1"},
		{Seed, "-7", "whole number"},
		{Name, "a/b", "letters"},
		{Name, "..", "letters"},
		{Clutches, "female 1", "its name and its eggs"},
		{Clutches, "female 1 = none", "its name and its eggs"},
		{Clutches, "= 30", "its name and its eggs"},
		{Clutches, "a = 30\na = 20", "twice"},
		{Factor, "moon=1", "moon"},
		{Hold, "drying=0,14", "share one setting"},
	} {
		values := url.Values{Sent: {"1"}, Taxon: {"Nova alba"}, Eggs: {"100"}, Day: {"2026-04-01"}, Dishes: {"12"}}
		values.Set(c.field, c.typed)
		if c.field == Clutches {
			values.Del(Eggs)
		}
		f := Read(values, today)
		if r := f.Request(); r.Dishes != 12 || !strings.Contains(f.Problem(c.field), c.says) || len(f.problems) != 1 {
			t.Errorf("%s %q: %q, %+v", c.field, c.typed, f.Problem(c.field), f.problems)
		}
		if f.Get(c.field) != c.typed {
			t.Errorf("%s: %q was not kept", c.field, c.typed)
		}
	}
	f := Read(url.Values{Sent: {"1"}, When: {OnTrigger}, Day: {"2026-04-01"}, Forward: {"yes"}}, today)
	if f.Request(); f.Problem(Forward) == "" {
		t.Error("a trigger day for dishes that start together passes")
	}
}

// Clutches are blocks of their own, of a lot or of none; eggs that are told
// clutch by clutch are not told together as well.
func TestClutches(t *testing.T) {
	f := Read(url.Values{Sent: {"1"}, Day: {"2026-04-01"}, Lot: {"moor", "fen"}, ClutchesOf + "moor": {"female 1 = 30\r\n\r\nfemale 2=25"}}, today)
	want := []trial.Lot{{Name: "moor", Clutch: "female 1", Eggs: 30}, {Name: "moor", Clutch: "female 2", Eggs: 25}, {Name: "fen"}}
	if r := f.Request(); f.Wrong() || !slices.Equal(r.Lots, want) {
		t.Errorf("%+v, %v", r.Lots, f.problems)
	}
	f = Read(url.Values{Sent: {"1"}, Day: {"2026-04-01"}, Clutches: {"a = 30\nb = 20"}}, today)
	if r := f.Request(); f.Wrong() || !f.EggsKnown() || r.Eggs != 0 || !slices.Equal(r.Lots, []trial.Lot{{Clutch: "a", Eggs: 30}, {Clutch: "b", Eggs: 20}}) {
		t.Errorf("%+v, %v", r, f.problems)
	}
	for _, both := range []url.Values{
		{Eggs: {"50"}, Clutches: {"a = 30\nb = 20"}},
		{Lot: {"moor"}, EggsOf + "moor": {"50"}, ClutchesOf + "moor": {"a = 30\nb = 20"}},
	} {
		both.Set(Sent, "1")
		both.Set(Day, "2026-04-01")
		f := Read(both, today)
		if f.Request(); !strings.Contains(f.Problem(Eggs)+f.Problem(EggsOf+"moor"), "clutch by clutch") {
			t.Errorf("%v: %v", both, f.problems)
		}
	}
}

// What is sent on unseen reads as what was typed.
func TestFields(t *testing.T) {
	f := Read(url.Values{Taxon: {"Nova alba"}, Disagreement: {"a", "b"}, Eggs: {"100"}}, today)
	f.Choose(Disagreement, "b")
	f.Choose(Lot, "moor")
	again := url.Values{}
	for _, field := range f.Fields() {
		again.Add(field.Name, field.Value)
	}
	again.Set(Sent, "1")
	g := Read(again, trial.Day{Year: 2027, Month: 1, Date: 1})
	if !slices.Equal(g.All(Disagreement), []string{"a", "b"}) || !g.Has(Lot, "moor") || g.Get(Day) != today.String() {
		t.Errorf("%+v", g.values)
	}
}

func FuzzRequest(f *testing.F) {
	f.Add("taxon=Nova&eggs=10&day=2026-01-01&chambers=5,4-8")
	f.Add("factor=drying%3D0%2C14&base=30&barred-day=Sat&sent=1")
	f.Fuzz(func(t *testing.T, query string) {
		values, err := url.ParseQuery(query)
		if err != nil {
			return
		}
		form := Read(values, today)
		r := form.Request()
		if !form.Wrong() && (r.Eggs < 0 || r.Dishes < 0 || !(r.BaseFraction >= 0 && r.BaseFraction < 1) || r.Start.IsZero() == r.Trigger.IsZero()) {
			t.Errorf("%q passes as %+v", query, r)
		}
	})
}

package design

import (
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

func held(t *testing.T, s string) trial.Fixed {
	t.Helper()
	x, err := trial.ParseHeld(s)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// What is held spends no treatment, and every dish gets it, the untreated too.
func TestHeldInAllDishes(t *testing.T) {
	for _, tt := range []struct {
		drying     string
		treatments int
	}{{"drying=0,28", 2}, {"drying=7,28", 3}} {
		p, err := New(Request{Eggs: 120, Start: start, Factors: []trial.Factor{parse(t, tt.drying)}, Held: []trial.Fixed{held(t, "stratification-length=60")}})
		if err != nil {
			t.Fatal(err)
		}
		if got := len(p.Treatments()); got != tt.treatments {
			t.Errorf("%s: %d treatments, want %d", tt.drying, got, tt.treatments)
		}
		if !slices.Contains(p.Fixed, held(t, "stratification-length=60")) {
			t.Errorf("%s: the plan holds %+v", tt.drying, p.Fixed)
		}
		for _, d := range p.Dishes {
			cold := slices.ContainsFunc(d.Steps, func(s trial.Step) bool {
				return s.Act == trial.ActChill && strings.Contains(s.Do, "for 60 days")
			})
			if _, varied := d.Levels[evidence.ColdLength]; varied || !cold {
				t.Errorf("%s: dish %d (untreated: %v) has %v and %v", tt.drying, d.Dish, d.Control, d.Levels, d.Steps)
			}
		}
	}
}

// A question about what is held is left out; the others are taken up.
func TestHeldLeavesQuestionOut(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	p, err := New(Request{Eggs: 200, Start: start, Held: []trial.Fixed{held(t, "stratification-length=60")}, Questions: []trial.Question{
		{ID: "cold", Kind: trial.KindApart, Factor: evidence.ColdLength, Levels: []trial.Level{{Value: n(0), Side: 1}, {Value: n(90), Side: 2}}},
		{ID: "dry", Kind: trial.KindNeed, Factor: evidence.Drying, Levels: []trial.Level{{Category: "required", Side: 1}, {Category: "not-required", Side: 2}}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Factors) != 1 || p.Factors[0].ID != evidence.Drying {
		t.Errorf("factors %+v", p.Factors)
	}
	if len(p.LeftOut) != 1 || p.LeftOut[0].Conflict != "cold" || !strings.Contains(p.LeftOut[0].Why, "fixed at 60 d in all dishes") {
		t.Errorf("left out %+v", p.LeftOut)
	}
}

// A question about what the keeper cannot set is left out, and what it would have
// spent goes to the others.
func TestWithoutLeavesQuestionOut(t *testing.T) {
	n := func(v float64) *float64 { return &v }
	req := Request{Eggs: 200, Start: start, Without: []evidence.Factor{evidence.Conductivity}, Questions: []trial.Question{
		{ID: "water", Kind: trial.KindApart, Factor: evidence.Conductivity, Levels: []trial.Level{{Value: n(50), Side: 1}, {Value: n(500), Side: 2}}},
		{ID: "dry", Kind: trial.KindNeed, Factor: evidence.Drying, Levels: []trial.Level{{Category: "required", Side: 1}, {Category: "not-required", Side: 2}}},
	}}
	p, err := New(req)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Factors) != 1 || p.Factors[0].ID != evidence.Drying || len(p.LeftOut) != 1 || p.LeftOut[0].Conflict != "water" || !strings.Contains(p.LeftOut[0].Why, "cannot be set") {
		t.Errorf("factors %+v, left out %+v", p.Factors, p.LeftOut)
	}
	req.Factors = []trial.Factor{parse(t, "conductivity=50,500")}
	if _, err := New(req); err == nil || !strings.Contains(err.Error(), "conductivity cannot be a factor") {
		t.Errorf("a factor that cannot be set: %v", err)
	}
}

func TestHeldRefusals(t *testing.T) {
	for _, tt := range []struct {
		factors, held []string
		want          string
	}{
		{[]string{"drying=0,28"}, []string{"drying=28"}, "drying cannot be a factor too: it is fixed at 28 d in all dishes"},
		{[]string{"drying=0,28"}, []string{"light=dark", "light=12:12"}, "light is held in all dishes twice"},
		{[]string{"incubation-temperature=5", "incubation-temperature=5,12"}, nil, "incubation-temperature cannot be a factor too"},
		{[]string{"drying=0,28"}, []string{"incubation-temperature=30"}, "no chamber holds 30 °C"},
		{[]string{"drying=0,28"}, []string{"stratification-temperature=15"}, "no chamber holds 15 °C"},
		{[]string{"stratification-temperature=2,5"}, []string{"stratification-length=0"}, "without a cold-moist period in any dish its temperature means nothing"},
		{nil, []string{"drying=28"}, "nothing to try"},
	} {
		req := Request{Eggs: 200, Start: start, Chambers: []trial.Chamber{{Low: 2, High: 12}}}
		for _, s := range tt.factors {
			req.Factors = append(req.Factors, parse(t, s))
		}
		for _, s := range tt.held {
			req.Held = append(req.Held, held(t, s))
		}
		if _, err := New(req); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%v, held %v: got %v, want …%s…", tt.factors, tt.held, err, tt.want)
		}
	}
}

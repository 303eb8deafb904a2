package countform

import (
	"net/url"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/trialtest"
)

func TestForm(t *testing.T) {
	p := trialtest.Questions(t, 200)
	day := p.Trigger.Add(1)
	if f := New(p, nil, p.Dishes[0].SetOut().Add(-400)); len(f.Due)+len(f.Other) != 0 {
		t.Errorf("before any egg is set out: %+v", f)
	}
	f := New(p, nil, day)
	if len(f.Due) != len(p.Dishes) || len(f.Other) != 0 || f.Due[0].Label != p.Dishes[0].Label {
		t.Fatalf("%d due, %d other", len(f.Due), len(f.Other))
	}
	label := func(i int) string { return p.Dishes[i].Label }
	values := url.Values{
		Hatched + label(0): {" 2 "}, Dead + label(0): {"1"}, Note + label(0): {"pale"},
		Hatched + label(1): {"9999"},
		Hatched + label(2): {"two"},
		Hatched + label(3): {""}, Note + label(3): {"lid open"},
		Hatched + label(4): {"0"}, Emerged + label(4): {"3"},
		Hatched + "ZZZ": {"1"},
	}
	sheet := f.Take(p, nil, values)
	if len(sheet.Looks) != 2 || !cmp.Equal(sheet.Looks[0], look(label(0), day, 2, counts.Unseen, 1, "pale")) || sheet.Looks[1].Emerged != 3 {
		t.Fatalf("taken: %+v", sheet.Looks)
	}
	wrong := f.Wrong()
	if len(wrong) != 3 {
		t.Fatalf("held back: %+v", wrong)
	}
	for i, says := range []string{"cannot be", "is no count", "a note alone"} {
		if d := wrong[i]; d.Label != label(i+1) || !strings.Contains(d.Problem, says) || !strings.Contains(d.Problem, d.Label) {
			t.Errorf("%s: %q, want %q", d.Label, d.Problem, says)
		}
	}
	c, err := counts.Take(p, nil, sheet)
	if err != nil {
		t.Fatal(err)
	}
	// What was held back stands in the next form as typed.
	g := New(p, c, day)
	g.Hold(wrong)
	if held := g.Wrong(); len(held) != 3 || held[0].Hatched.Value != "9999" || len(g.Due) != len(p.Dishes)-2 {
		t.Errorf("%+v", held)
	}
}

func look(dish string, day trial.Day, hatched, emerged, dead int, note string) counts.Look {
	return counts.Look{Dish: dish, Date: day, Eggs: counts.Unseen, Hatched: hatched, Emerged: emerged, Dead: dead, Note: note}
}

func TestCorrection(t *testing.T) {
	p := trialtest.Questions(t, 200)
	day, d := p.Trigger.Add(1), p.Dishes[0]
	record := func(c *counts.Sheet, values url.Values) (*counts.Sheet, Form, int) {
		t.Helper()
		f := New(p, c, day)
		sheet := f.Take(p, c, values)
		if len(sheet.Looks) == 0 {
			return c, f, 0
		}
		all, err := counts.Take(p, c, sheet)
		if err != nil {
			t.Fatal(err)
		}
		return all, f, len(sheet.Looks)
	}
	c, _, _ := record(nil, url.Values{Hatched + d.Label: {"2"}})
	// Sent again unchanged it is no look; changed it corrects; emptied it is refused.
	c, f, n := record(c, url.Values{Hatched + d.Label: {"2"}, Emerged + d.Label: {""}})
	if n != 0 || len(f.Wrong()) != 0 {
		t.Errorf("unchanged: %d looks, %+v", n, f.Wrong())
	}
	c, _, n = record(c, url.Values{Hatched + d.Label: {"1"}})
	if n != 1 {
		t.Errorf("changed: %d looks", n)
	}
	c, f, n = record(c, url.Values{Hatched + d.Label: {""}})
	if n != 0 || len(f.Wrong()) != 1 || !strings.Contains(f.Wrong()[0].Problem, "corrected, not emptied") {
		t.Errorf("emptied: %d looks, %+v", n, f.Wrong())
	}
	f = New(p, c, day)
	var shown Dish
	for _, o := range f.Other {
		if o.Label == d.Label {
			shown = o
		}
	}
	if !shown.Recorded() || shown.Hatched.Value != "1" || len(shown.Was()) != 1 || shown.Was()[0].Hatched != 2 {
		t.Errorf("%+v", shown)
	}
}

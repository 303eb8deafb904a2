package counts_test

import (
	"fmt"
	"testing"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/trialtest"
)

func TestDueOn(t *testing.T) {
	p := takePlan(t)
	d := p.Dishes[2]
	day := func(n int) trial.Day { return p.Trigger.Add(n) }
	if got := counts.DueOn(p, nil, p.Trigger); len(got) != 0 {
		t.Errorf("on the trigger day %+v are due", got)
	}
	all := counts.DueOn(p, nil, day(1))
	if len(all) != len(p.Dishes) || all[2].Label != d.Label || all[2].So.Left != d.Eggs || all[2].Last {
		t.Fatalf("on the first day %+v", all)
	}
	look := func(dish string, on trial.Day, emerged, hatched, dead int) counts.Look {
		return counts.Look{Dish: dish, Date: on, Eggs: counts.Unseen, Emerged: emerged, Hatched: hatched, Dead: dead}
	}
	c, err := counts.Take(p, nil, &counts.Sheet{Looks: []counts.Look{look(d.Label, day(1), 3, 2, 1)}})
	if err != nil {
		t.Fatal(err)
	}
	if got := counts.DueOn(p, c, day(1)); len(got) != len(p.Dishes)-1 {
		t.Errorf("after one look %d dishes are due", len(got))
	}
	// On the next look the form knows what was found before.
	next := counts.DueOn(p, c, day(2))
	want := counts.SoFar{Eggs: d.Eggs, Hatched: 2, Dead: 1, Emerged: 3, Left: d.Eggs - 3}
	if len(next) != len(p.Dishes) || next[2].So != want {
		t.Errorf("next look %+v, want %+v", next[2].So, want)
	}
	// A look already made on the day is offered for correction.
	if so := counts.SoFarOf(c, d, day(1)); so.That == nil || so.That.Hatched != 2 || so.Hatched != 0 || so.Emerged != 0 {
		t.Errorf("the same day again: %+v", so)
	}
	// Long overdue: one look a dish, the last; a sum without a date ends it.
	late := counts.DueOn(p, c, p.End.Add(30))
	if len(late) != len(p.Dishes) || !late[0].Last || late[0].Date != p.End {
		t.Errorf("a month late: %+v", late[0])
	}
	c, err = counts.Take(p, c, trialtest.Sheet(t, fmt.Sprintf("dish,hatched\n%s,1\n", p.Dishes[0].Label)))
	if err != nil {
		t.Fatal(err)
	}
	if got := counts.DueOn(p, c, p.End); len(got) != len(p.Dishes)-1 || got[0].Dish != 2 {
		t.Errorf("after a sum without date: %+v", got[0])
	}
}

package counts_test

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/design"
	"hatchlore/evidence/trial/trialtest"
)

func takePlan(t *testing.T) *trial.Plan {
	return trialtest.Plan(t, design.Request{Taxon: "Nova alba", Factors: []trial.Factor{trialtest.Factor(t, "drying=0,14")},
		Lots: []trial.Lot{{Name: "north", Eggs: 60}, {Name: "south", Eggs: 60}}, Dishes: 8, Start: trialtest.Start, Seed: 3})
}

func TestTake(t *testing.T) {
	p := takePlan(t)
	first, last := p.Dishes[0], p.Dishes[1]
	sheet := func(rows ...string) *counts.Sheet {
		return trialtest.Sheet(t, "dish,date,hatched\n"+strings.Join(rows, "\n")+"\n")
	}
	end := p.End.String()
	begun, err := counts.Take(p, nil, sheet("1,"+p.Trigger.Add(1).String()+",2"))
	if err != nil {
		t.Fatal(err)
	}
	if got := counts.ProgressOf(p, begun); got.Counted != 1 || got.Finished != 0 || got.Hatched != 2 || got.Eggs != first.Eggs {
		t.Errorf("after one look: %+v", got)
	}
	if begun.Looks[0].Dish != first.Label {
		t.Errorf("the dish is kept as %q, not by its label %s", begun.Looks[0].Dish, first.Label)
	}
	// The same look by label corrects it; the dish keeps its history.
	mended, err := counts.Take(p, begun, sheet(first.Label+","+p.Trigger.Add(1).String()+",3", "2,"+end+",0"))
	if err != nil {
		t.Fatal(err)
	}
	if l := mended.Looks[0]; l.Hatched != 3 || len(l.Was) != 1 || l.Was[0].Hatched != 2 {
		t.Errorf("corrected look: %+v", l)
	}
	if got := counts.ProgressOf(p, mended); got.Counted != 2 || got.Finished != 1 || got.Whole() {
		t.Errorf("after two dishes: %+v", got)
	}
	spent := counts.Spent(p, mended)
	want := map[string]int{}
	want[first.Lot] += first.Eggs
	want[last.Lot] += last.Eggs
	if fmt.Sprint(spent) != fmt.Sprint(want) {
		t.Errorf("spent %v, want %v", spent, want)
	}
}

func TestTakeRefuses(t *testing.T) {
	p := takePlan(t)
	label := p.Dishes[0].Label
	for _, c := range []struct{ name, rows, want string }{
		{"unknown dish", "99,2026-02-20,1", "line 2: the plan has no dish"},
		{"too many", "1,2026-02-20,1\n2,2026-02-20,99", "line 3: dish 2"},
		{"before the eggs", "1,2025-12-24,1", "line 2: dish " + label + ": a look on 2025-12-24 cannot be"},
		{"under two names", "1,2026-02-20,1\n" + label + ",2026-02-20,1", "line 3: dish " + label + ": a second look"},
	} {
		_, err := counts.Take(p, nil, trialtest.Sheet(t, "dish,date,hatched\n"+c.rows+"\n"))
		if err == nil || !strings.Contains(strings.ReplaceAll(err.Error(), "dish "+p.Dishes[1].Label, "dish 2"), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
}

// What a dish cannot hold is said as what it is: too many set, hatched or emerged.
func TestTakeSaysWhatCannotBe(t *testing.T) {
	p := takePlan(t)
	d := p.Dishes[0]
	for row, want := range map[string]string{
		fmt.Sprintf("%s,%d,,1,", d.Label, d.Eggs+1):         fmt.Sprintf("%d eggs in it cannot be, %d were planned", d.Eggs+1, d.Eggs),
		fmt.Sprintf("%s,,,%d,1", d.Label, d.Eggs):           fmt.Sprintf("%d hatched and 1 dead of %d eggs", d.Eggs, d.Eggs),
		fmt.Sprintf("%s,,%d,2,", d.Label, d.Eggs-1):         fmt.Sprintf("%d emerged or hatched of %d eggs", d.Eggs+1, d.Eggs),
		fmt.Sprintf("%s,%d,0,%d,", d.Label, d.Eggs, d.Eggs): "",
	} {
		_, err := counts.Take(p, nil, trialtest.Sheet(t, "dish,eggs,emerged,hatched,dead\n"+row+"\n"))
		if (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", row, err, want)
		}
	}
}

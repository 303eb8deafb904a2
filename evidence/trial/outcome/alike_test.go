package outcome

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/counts"
	"hatchlore/evidence/trial/trialtest"
	"hatchlore/evidence/trial/verdict"
)

// sameCounts counts every dish of a treatment alike.
func sameCounts(t *testing.T, p *trial.Plan, hatched func(trial.Dish) int) *counts.Sheet {
	var b strings.Builder
	b.WriteString("dish,hatched\n")
	for _, d := range p.Dishes {
		fmt.Fprintf(&b, "%s,%d\n", d.Label, hatched(d))
	}
	return trialtest.Sheet(t, b.String())
}

// Counts that are the same in all dishes of a treatment look copied: that is
// said, and the figures are no surer than independent eggs would make them.
func TestCopiedCounts(t *testing.T) {
	p := trialtest.Questions(t, 400)
	r, err := Weigh(p, sameCounts(t, p, func(d trial.Dish) int {
		if d.Levels[evidence.ColdLength] == trial.Num(60) {
			return d.Eggs/2 + 1
		}
		return d.Eggs / 2
	}), WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(strings.Join(r.Notes, " "), "copied from dish to dish") {
		t.Errorf("notes %q", r.Notes)
	}
	if r.Model.Dispersion != 1 {
		t.Errorf("dispersion %v", r.Model.Dispersion)
	}
	for _, term := range r.Model.Terms {
		if !term.SE.Known() || term.SE < 0.05 || term.P < 1e-4 {
			t.Errorf("an absurdly sure term: %+v", term)
		}
	}
	for _, v := range r.Verdicts {
		if v.Conflict == "cold" && v.Verdict != verdict.Undecided {
			t.Errorf("one egg a dish decides: %+v", v)
		}
	}
	// The same count in all dishes whatever their treatment: nothing differs.
	r, err = Weigh(p, sameCounts(t, p, func(trial.Dish) int { return 3 }), WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range r.Model.Terms[1:] {
		if !term.P.Known() || term.P < 0.9 {
			t.Errorf("where all is alike: %+v", term)
		}
	}
}

// All or nothing is no sign of copying, and certainty has a width.
func TestAllOrNothing(t *testing.T) {
	p := trialtest.Questions(t, 400)
	r, err := Weigh(p, sameCounts(t, p, func(d trial.Dish) int {
		if d.Levels[evidence.Drying] == trial.Num(0) {
			return 0
		}
		return d.Eggs
	}), WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(strings.Join(r.Notes, " "), "copied") {
		t.Errorf("notes %q", r.Notes)
	}
	for _, v := range r.Verdicts {
		if v.Conflict == "dry" && v.Number == 1 && (v.Verdict != verdict.Supported || strings.Contains(v.Why, "(+100 to +100)")) {
			t.Errorf("verdict %+v", v)
		}
	}
}

// A trial in which nothing hatched decides nothing: the eggs may be dead.
func TestBarrenTrial(t *testing.T) {
	p := trialtest.Questions(t, 400)
	r, err := Weigh(p, sameCounts(t, p, func(trial.Dish) int { return 0 }), WeighOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range r.Verdicts {
		if v.Verdict != verdict.Undecided {
			t.Errorf("decided by no egg: %+v", v)
		}
	}
	said := strings.Join([]string{r.Verdicts[0].Why, r.Verdicts[len(r.Verdicts)-1].Why}, " ")
	if !strings.Contains(said, "nothing to compare") || !strings.Contains(said, "may be dead") {
		t.Errorf("reasons %q", said)
	}
}

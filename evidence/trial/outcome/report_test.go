package outcome

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/trialtest"
)

// A trial in which undried eggs never hatch and cold helps becomes claims that
// say so, each sound and each quoting its own sentence.
func TestReport(t *testing.T) {
	p := trialtest.Questions(t, 900)
	r, err := Tell(p, trialtest.Hatch(t, p, 9, func(d trial.Dish) float64 {
		if d.Levels[evidence.Drying] == trial.Num(0) {
			return 0
		}
		if d.Levels[evidence.ColdLength] == trial.Num(60) {
			return 0.75
		}
		return 0.2
	}))
	if err != nil {
		t.Fatal(err)
	}
	page := []rune(r.Text)
	var got []string
	for _, c := range r.Claims {
		if problems := c.Lint(); len(problems) > 0 {
			t.Errorf("%+v: %v", c, problems)
		}
		if q := string(page[c.Start:c.End]); q != c.Quote {
			t.Errorf("the span holds %q, the quote is %q", q, c.Quote)
		}
		low := "-"
		if c.Low != nil {
			low = fmt.Sprint(*c.Low)
		}
		got = append(got, strings.Join([]string{string(c.Factor), low, c.Category, string(c.Bearing)}, " "))
		if c.Secondhand || c.Source != OwnTrial || c.Taxon != p.Taxon || c.Stage != evidence.StageHatching {
			t.Errorf("claim %+v", c)
		}
	}
	want := []string{"drying - required favours", "drying 14 required favours", "stratification-length 0  favours", "stratification-length 60  favours", "light - dark favours", "light - 12:12 favours"}
	if !slices.Equal(got, want) {
		t.Errorf("claims %q\nwant %q", got, want)
	}
	if !strings.Contains(r.Text, "On drying: required is supported") {
		t.Errorf("the text lacks the verdict:\n%s", r.Text)
	}
	// Untreated eggs that hatch as well as others make drying not required; a trial
	// in which none hatches blames no level for it.
	r, err = Tell(p, trialtest.Hatch(t, p, 4, func(d trial.Dish) float64 { return 0.4 }))
	if err != nil {
		t.Fatal(err)
	}
	if c := r.Claims[0]; c.Category != "not-required" || c.Bearing != evidence.Indifferent {
		t.Errorf("undried eggs that hatch say %+v", c)
	}
	r, err = Tell(p, trialtest.Hatch(t, p, 4, func(d trial.Dish) float64 { return 0 }))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range r.Claims {
		if c.Bearing != evidence.Reported || c.Category == "required" || c.Category == "harmful" {
			t.Errorf("where none hatched the claim says %+v", c)
		}
	}
}

package bench

import (
	"fmt"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// unsaid tells the figures of handling that neither the plan's factors nor what all
// dishes share give, and that are the defaults above.
func unsaid(recipes []recipe) []string {
	var out []string
	tell := func(when func(recipe) bool, what string, args ...any) {
		for _, r := range recipes {
			if when(r) {
				out = append(out, fmt.Sprintf(what, args...))
				return
			}
		}
	}
	tell(func(r recipe) bool { return r.coldDays() > 0 && !r.sets(evidence.ColdLength) },
		"the cold-moist period lasts %s where nothing says how long (a middling value: give your own by --hold %s=90)", trial.Plural(trial.UsualColdDays, "day"), evidence.ColdLength)
	tell(func(r recipe) bool { return r.coldDays() > 0 && !r.sets(evidence.ColdTemperature) },
		"the cold-moist period is held at %d °C where nothing says how cold (a refrigerator's: give your own by --hold %s=3)", defaultColdTemp, evidence.ColdTemperature)
	tell(func(r recipe) bool { t, ok := r.get(evidence.Freezing); return ok && t.Category == "" },
		"eggs are kept frozen for %s (a middling value)", trial.Plural(freezeDays, "day"))
	return out
}

// sets reports whether the plan gives the dish a setting of the factor.
func (r recipe) sets(f evidence.Factor) bool {
	_, ok := r.get(f)
	return ok
}

package outcome

import (
	"slices"

	"hatchlore/evidence/trial"
)

// Untreated returns the outcome of the dishes that nothing was done to: the
// added control, else the treatment in which every factor that can be left out
// is; ok is false where the plan has no such dishes, or treats all of them.
func Untreated(p *trial.Plan, r *Result) (t TreatmentResult, ok bool) {
	if slices.ContainsFunc(p.Fixed, trial.Fixed.Treats) {
		return TreatmentResult{}, false
	}
	i := slices.IndexFunc(r.Treatments, func(t TreatmentResult) bool { return t.Control })
	if i < 0 {
		i = slices.IndexFunc(r.Treatments, func(t TreatmentResult) bool { return spared(p, t.Levels) })
	}
	if i < 0 {
		return TreatmentResult{}, false
	}
	return r.Treatments[i], true
}

func spared(p *trial.Plan, levels map[string]trial.Setting) bool {
	handled := false
	for _, f := range p.Factors {
		none, can := trial.Untreated(f.ID)
		if can && levels[string(f.ID)] != none {
			return false
		}
		handled = handled || can
	}
	return handled
}

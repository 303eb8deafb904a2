package rule

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// fromContext is favours for the one level of a factor under which hatching
// is told nearby, reported otherwise.
func (r *reading) fromContext(f *finding, found []*finding) evidence.Bearing {
	for _, g := range found {
		if g != f && g.factor == f.factor && g.context && !(g.t.Q != nil && g.t.Q.Implied) && g.rule.Family() == f.rule.Family() && near(f, g) && !sameValue(f, g) && shareName(f, g) {
			return evidence.Reported
		}
	}
	c := f.s.Clauses[f.t.Clause]
	asked := c.Has.Meets(r.Roles.Aim) || f.s.Caption
	if r.prescribed(f) {
		return evidence.Favours
	}
	hold := f.factor == evidence.Drying // a dry hold told as method waits for an outcome tied to it
	for d := -2; d <= marked.Reach; d++ {
		o := r.Beside(f.s, d)
		if o == nil || d <= 0 && asked && (d == 0 || !hasShares(o)) || hold && d != 0 && f.s.Has.Meets(r.Roles.Past) {
			continue
		}
		if d != 0 && o.Has.Meets(r.Roles.Defines) && !hasShares(o) || o.Caption && !f.s.Caption {
			continue // says what counts as hatched, not that eggs hatched; or stands there by the layout alone
		}
		if b := r.comment(o); d == 1 && b != marked.Unsaid && !(b == evidence.Indifferent && hasShares(o) && f.isCircumstance()) {
			return b
		}
		if r.hatched(o, d <= 0) && (!f.s.Caption || o.Caption && hasShares(o)) {
			return evidence.Favours
		}
	}
	if !asked && (c.Has.Meets(r.Roles.Need) || c.Has.Meets(r.Roles.Helpful) || (c.Has.Meets(r.Roles.Present) || f.s.Has.Meets(r.Roles.Hearsay)) && !f.s.Has.Meets(r.Roles.Past)) {
		return evidence.Favours
	}
	return evidence.Reported
}

// isCircumstance reports whether the finding is the one value of what all eggs had:
// that it made no difference what else was done to them says that they hatched in it.
func (f *finding) isCircumstance() bool {
	switch f.factor {
	case evidence.WarmTemperature, evidence.Salinity, evidence.Conductivity, evidence.PH:
		return f.t.Siblings == 1
	}
	return false
}

// method reports whether a hold is told as what was done to all eggs before the
// trial: "chilled for 3 months before incubation".
func (r *reading) method(f *finding) bool {
	c := f.s.Clauses[f.t.Clause]
	switch f.factor {
	case evidence.StorageLength, evidence.ColdLength, evidence.ColdTemperature:
		return c.Has.Meets(r.Roles.BeforeUse) && !c.Has.Meets(r.Roles.Event)
	}
	return false
}

// comment is what a sentence says of the treatment told right before it
// ("this made no difference").
func (r *reading) comment(s *marked.Sentence) evidence.Bearing {
	if !s.Has.Meets(r.Roles.Anaphor) {
		return marked.Unsaid
	}
	for _, c := range s.Clauses {
		if c.Bears != marked.Unsaid && c.Has.Meets(r.Roles.Anaphor) {
			return c.Bears
		}
	}
	return marked.Unsaid
}

// prescribed reports whether the finding is part of a recipe: an instruction
// about eggs, or an item of a list that a recipe's sentence introduces.
func (r *reading) prescribed(f *finding) bool {
	c := f.s.Clauses[f.t.Clause]
	if r.Instructs(f.s, c) {
		return true
	}
	if r.underColon(f.s, f.t.Clause) && !c.Has.Meets(r.Roles.Aim) && !c.Has.Meets(r.Roles.Event) && !f.s.Has.Meets(r.Roles.Past) {
		return true
	}
	for d := 1; d <= marked.Reach; d++ {
		o := r.Beside(f.s, -d)
		if o == nil {
			break
		}
		if strings.HasSuffix(o.Text(), ":") {
			return o.Has.Meets(r.Roles.Helpful) || o.Has.Meets(r.Roles.Topic) || o.Has.Meets(r.Roles.Incubation)
		}
	}
	return false
}

// underColon reports whether clause k belongs to a list that a colon opens.
func (r *reading) underColon(s *marked.Sentence, k int) bool {
	for ; k > 0; k-- {
		if s.Clauses[k].Colon {
			return true
		}
	}
	return false
}

func hasShares(s *marked.Sentence) bool {
	return slices.ContainsFunc(s.Targets, func(t *marked.Target) bool { return t.Kind == "fraction" })
}

// hatched reports whether some clause of s tells of hatching: as an outcome,
// or as the number that something made no difference to. Where strict, a word
// of praise alone ("thirty days are enough") does not tell of it.
func (r *reading) hatched(s *marked.Sentence, strict bool) bool {
	if s.Has.Meets(r.Roles.Counted) && !hasShares(s) && !s.Has.Meets(r.Roles.YoungCount) {
		return false // says what is counted as hatched
	}
	return slices.ContainsFunc(s.Clauses, func(c marked.Clause) bool {
		if c.Has.Meets(r.Roles.Rear) && !c.Has.Meets(r.Roles.Fraction) {
			return false // "nauplii from both places were raised singly"
		}
		told := c.Has.Meets(r.Roles.Event) || c.Has.Meets(r.Roles.YoungCount) || c.Has.Meets(r.Roles.Fraction)
		return c.Bears == evidence.Favours && (told || !strict) || c.Bears == evidence.Indifferent && c.Has.Meets(r.Roles.Hatch)
	})
}

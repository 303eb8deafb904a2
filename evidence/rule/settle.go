package rule

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/marked"
)

// settle decides the findings whose outcome stands in their neighbourhood,
// gives each its names, and drops repeats and levels that are told again with
// their outcome.
func (r *reading) settle(found []*finding) []*finding {
	for _, f := range found {
		f.names = r.namesOf(f.s, f.subject)
	}
	r.recalled(found)
	for i, f := range found {
		if f.context {
			f.bearing = r.fromContext(f, around(found, i))
			if f.bearing == evidence.Favours && r.method(f) {
				f.bearing = evidence.Reported
			}
		}
	}
	found = r.neitherNeeded(r.carriedOver(found))
	found = r.emerged(found)
	r.oneChanged(found)
	found = r.freshened(found)
	r.survivals(found)
	r.lightless(found)
	r.coldHolds(found)
	r.joinTimes(found)
	r.ordinalLevels(found)
	r.shareOut(found)
	r.timesOut(found)
	r.onlyThere(found)
	r.trends(found)
	r.coded(found)
	for i, f := range found {
		for _, g := range before(found, i) {
			if need(f, g) || need(g, f) {
				continue
			}
			switch {
			case f.dropped || g.dropped || f.factor != g.factor || f.bearing != g.bearing || f.category != g.category || f.stage != g.stage:
			case repeats(f, g) && g.t.Q != nil && g.t.Q.Implied:
				g.dropped = true
			case repeats(f, g) && r.foundAgain(f, g):
			case repeats(f, g) || echoes(f, g):
				f.dropped = true
			case echoes(g, f):
				g.dropped = true
			}
		}
	}
	for i, f := range found {
		if f.bearing == evidence.Reported && !f.dropped {
			f.dropped = slices.ContainsFunc(around(found, i), func(g *finding) bool {
				return g != f && !g.dropped && g.bearing != evidence.Reported && g.factor == f.factor && sameValue(f, g) && shareName(f, g)
			})
		}
	}
	return slices.DeleteFunc(found, func(f *finding) bool { return f.dropped })
}

// joinTimes makes one span of two times of a hatch: "the first were seen after
// 36 h and the last on day 5", "between 30 h and the fourth day".
func (r *reading) joinTimes(found []*finding) {
	const near = 3
	ro := r.Roles
	for i, f := range found {
		if f.factor != evidence.TimeToHatch || f.low == nil || f.dropped {
			continue
		}
		for _, g := range found[i+1:] {
			if g.s != f.s {
				break
			}
			if g.factor != f.factor || g.high == nil || *g.high <= *f.low || !shareName(f, g) {
				continue
			}
			bracketed := g.t.From-f.t.To < near && f.s.StepBack(f.t.From, ro.Betweens) != f.t.From
			if bracketed || f.s.Between(f.t.To, g.t.From, ro.LastOne) {
				f.high, g.dropped = g.high, true
			}
			break
		}
	}
}

// survivals turns frost after which eggs hatched into frost that they bear,
// where eggs without it hatched too.
func (r *reading) survivals(found []*finding) {
	for i, f := range found {
		if f.factor != evidence.Freezing || f.bearing != evidence.Favours || f.low == nil && f.high == nil || f.category != "" {
			continue
		}
		for _, g := range around(found, i) {
			if g != f && g.factor == f.factor && g.bearing == evidence.Indifferent && near(f, g) && shareName(f, g) {
				f.bearing, f.category = evidence.Indifferent, "tolerated"
			}
		}
	}
}

// coldHolds turns the temperature of a cold period into one under which eggs
// got ready to hatch, where only the shorter of its lengths had no effect.
func (r *reading) coldHolds(found []*finding) {
	for i, f := range found {
		if f.factor != evidence.ColdTemperature || f.bearing != evidence.Prevents {
			continue
		}
		for _, g := range around(found, i) {
			if g.factor == evidence.ColdLength && g.bearing == evidence.Favours && g.index >= f.index && near(f, g) && shareName(f, g) {
				f.bearing = evidence.Favours
			}
		}
	}
}

// lightless turns light under which eggs hatched into light that made no
// difference, where the text says so of light right before or behind.
func (r *reading) lightless(found []*finding) {
	for i, f := range found {
		if f.factor == evidence.Light && f.bearing == evidence.Prevents && strings.Contains(f.category, ":") {
			f.dropped = slices.ContainsFunc(around(found, i), func(g *finding) bool {
				return g.factor == f.factor && g.category == f.category && g.bearing == evidence.Favours && shareName(f, g) // of the series, not of this failure
			})
		}
		if f.factor == evidence.Light && f.bearing == evidence.Prevents && f.category == "dark" {
			f.dropped = slices.ContainsFunc(around(found, i), func(g *finding) bool {
				return g.factor == f.factor && g.category == "light-required" && g.s == f.s && g.t.Clause == f.t.Clause // said once, as a need
			})
		}
		if f.category == "light-required" && r.saysDark(f) && !f.s.Clauses[f.t.Clause].Has.Meets(r.Roles.Barely) && slices.ContainsFunc(around(found, i), func(g *finding) bool {
			return g.category == f.category && !r.saysDark(g) && near(f, g) && shareName(f, g)
		}) {
			f.bearing, f.category = evidence.Prevents, "dark" // the need has words of its own nearby
		}
		if f.factor == evidence.Light && f.category == "dark" && f.bearing == evidence.Favours && hardlyAny(f) {
			f.category = "light-required" // "1 % in the dark, 48 % under the lamp"
		}
		if f.factor != evidence.Light || f.bearing != evidence.Favours || f.category == "light-required" {
			continue
		}
		for _, g := range around(found, i) {
			if g.factor == f.factor && g.bearing == evidence.Indifferent && g.category == "no-effect" && near(f, g) {
				f.bearing = evidence.Indifferent
			}
		}
	}
}

// hardlyAny reports whether next to nothing hatched in the clause of f, and much
// elsewhere in its sentence.
func hardlyAny(f *finding) bool {
	const much = 20 // %
	own, other := false, false
	for _, t := range f.s.Targets {
		if t.Kind != "fraction" || t.High == nil {
			continue
		}
		if t.Clause == f.t.Clause {
			own = *t.High <= marked.HardlyAnyShare
		} else {
			other = other || *t.High >= much
		}
	}
	return own && other
}

// saysDark reports whether f speaks of darkness rather than of light.
func (r *reading) saysDark(f *finding) bool { return r.ClassName(f.t.Class) == "dark" }

func (r *reading) namesOf(s *marked.Sentence, sub subject) []string {
	var out []string
	for _, n := range sub.names {
		if w := r.written(s, n); !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		out = []string{""}
	}
	return out
}

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
		o := r.At(f.index+d, f.s.Region)
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
		o := r.At(f.index-d, f.s.Region)
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

func near(f, g *finding) bool {
	d := f.index - g.index
	return f.s.Region == g.s.Region && d <= 1 && d >= -1
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

// foundAgain reports whether g is given as another's finding and f as one's own or
// as that of a third: what was found again is another statement.
func (r *reading) foundAgain(f, g *finding) bool {
	others, by := r.secondhand(g.s, g.t)
	if !others || g.rule.Claim.Own {
		return false
	}
	again, byThird := r.secondhand(f.s, f.t)
	return !again || f.rule.Claim.Own || by != "" && byThird != "" && by != byThird
}

// repeats reports whether f says again, within the same passage, what g said.
func repeats(f, g *finding) bool {
	return sameValue(f, g) && slices.Equal(f.names, g.names) && f.s.Region == g.s.Region && f.index-g.index <= 2*marked.Reach
}

// need drops f, a plain need, where g gives the length of what is needed right
// beside it: one claim then says both.
func need(f, g *finding) bool {
	if f.dropped || g.dropped || f.category != "required" || g.category != "" || f.bearing != g.bearing || f.low != nil || f.high != nil || f.factor != g.factor || f.factor != evidence.Drying ||
		g.low == nil && g.high == nil || f.s != g.s || len(f.s.Cites) > 0 || !shareName(f, g) {
		return false
	}
	f.dropped, g.category = true, f.category
	return true
}

// echoes reports whether f has no number and says otherwise what g, which has
// one, says nearby.
func echoes(f, g *finding) bool {
	d := f.index - g.index
	return f.low == nil && f.high == nil && f.category != "" && (g.low != nil || g.high != nil) &&
		f.s.Region == g.s.Region && d == 0 && shareName(f, g)
}

func sameValue(f, g *finding) bool {
	return quantity.Same(f.low, g.low) && quantity.Same(f.high, g.high) && (f.low != nil || f.high != nil || f.category == g.category)
}

func shareName(f, g *finding) bool {
	return slices.ContainsFunc(f.names, func(n string) bool { return slices.Contains(g.names, n) })
}

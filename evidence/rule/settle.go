package rule

import (
	"slices"

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
	r.dropRepeats(found)
	dropRetold(found)
	return slices.DeleteFunc(found, func(f *finding) bool { return f.dropped })
}

// dropRepeats drops of two findings that say the same in one passage the one that
// says less: the later, the one from a word that hides a number, the one without a
// number.
func (r *reading) dropRepeats(found []*finding) {
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
}

// dropRetold drops levels without an outcome that are told with theirs nearby.
func dropRetold(found []*finding) {
	for i, f := range found {
		if f.bearing == evidence.Reported && !f.dropped {
			f.dropped = slices.ContainsFunc(around(found, i), func(g *finding) bool {
				return g != f && !g.dropped && g.bearing != evidence.Reported && g.factor == f.factor && sameValue(f, g) && shareName(f, g)
			})
		}
	}
}

// repeats reports whether f says again, within the same passage, what g said.
func repeats(f, g *finding) bool {
	return sameValue(f, g) && slices.Equal(f.names, g.names) && f.s.Region == g.s.Region && f.s.Index-g.s.Index <= 2*marked.Reach
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
	d := f.s.Index - g.s.Index
	return f.low == nil && f.high == nil && f.category != "" && (g.low != nil || g.high != nil) &&
		f.s.Region == g.s.Region && d == 0 && shareName(f, g)
}

func sameValue(f, g *finding) bool {
	return quantity.Same(f.low, g.low) && quantity.Same(f.high, g.high) && (f.low != nil || f.high != nil || f.category == g.category)
}

func shareName(f, g *finding) bool {
	return slices.ContainsFunc(f.names, func(n string) bool { return slices.Contains(g.names, n) })
}

func near(f, g *finding) bool {
	d := f.s.Index - g.s.Index
	return f.s.Region == g.s.Region && d <= 1 && d >= -1
}

// around returns the findings within about the same passage as found[i].
func around(found []*finding, i int) []*finding {
	from, to := i, i
	for from > 0 && found[i].s.Index-found[from-1].s.Index <= 2*marked.Reach {
		from--
	}
	for to < len(found) && found[to].s.Index-found[i].s.Index <= 2*marked.Reach {
		to++
	}
	return found[from:to]
}

// before returns those of around that stand before found[i].
func before(found []*finding, i int) []*finding {
	from := i
	for from > 0 && found[i].s.Index-found[from-1].s.Index <= 2*marked.Reach {
		from--
	}
	return found[from:i]
}

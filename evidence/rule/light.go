package rule

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// lightless settles what is said of light and dark by what stands beside it.
func (r *reading) lightless(found []*finding) {
	for i, f := range found {
		if f.factor != evidence.Light {
			continue
		}
		beside := around(found, i)
		if f.bearing == evidence.Prevents && toldAsWell(f, beside) {
			f.dropped = true
		}
		if f.category == "light-required" && r.saysDark(f) && r.hasWordsOfNeed(f, beside) {
			f.bearing, f.category = evidence.Prevents, "dark"
		}
		if f.category == "dark" && f.bearing == evidence.Favours && hardlyAny(f) {
			f.category = "light-required" // "1 % in the dark, 48 % under the lamp"
		}
		if f.bearing == evidence.Favours && f.category != "light-required" && slices.ContainsFunc(beside, func(g *finding) bool {
			return g.factor == f.factor && g.bearing == evidence.Indifferent && g.category == "no-effect" && near(f, g)
		}) {
			f.bearing = evidence.Indifferent // light made no difference, the text says right before or behind
		}
	}
}

// toldAsWell reports whether a failure is told better beside: of a photoperiod under
// which eggs hatched, so that it was not what failed; of darkness, as a need of light
// in the same clause.
func toldAsWell(f *finding, beside []*finding) bool {
	return slices.ContainsFunc(beside, func(g *finding) bool {
		switch {
		case g.factor != f.factor:
			return false
		case strings.Contains(f.category, ":"):
			return g.category == f.category && g.bearing == evidence.Favours && shareName(f, g)
		case f.category == "dark":
			return g.category == "light-required" && g.s == f.s && g.t.Clause == f.t.Clause
		}
		return false
	})
}

// hasWordsOfNeed reports whether the need of light that f takes from a failure in
// the dark has words of its own nearby, so that f is the failure alone.
func (r *reading) hasWordsOfNeed(f *finding, beside []*finding) bool {
	return !f.s.Clauses[f.t.Clause].Has.Meets(r.Roles.Barely) && slices.ContainsFunc(beside, func(g *finding) bool {
		return g.category == f.category && !r.saysDark(g) && near(f, g) && shareName(f, g)
	})
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

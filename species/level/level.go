// Package level says which settings a trial needs to settle a conflict: where each
// side stands, what to compare a disputed value with, the untreated control.
//
// It refuses to set what came of the eggs, and a value that stands on hearsay
// alone and would be another side's in the right unit.
package level

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
)

// Of returns one level a side, then what to compare with, in the order of their
// values; none where there are no two to set apart. An outcome cannot be set: it
// has none. Nor is a value tried that stands on hearsay alone and would be another
// side's in the right unit: 50 °C would kill the eggs that 50 °F hatched.
func Of(c conflict.Conflict) []conflict.Level {
	m, ok := evidence.MeasureOf(c.Factor)
	if !ok || m.Outcome || c.Kind == conflict.Silent {
		return []conflict.Level{}
	}
	var out []conflict.Level
	for i, s := range c.Sides {
		if !mistaken(c, s) {
			out = append(out, ofSide(s, i+1, c))
		}
	}
	if len(out) < 2 {
		return []conflict.Level{}
	}
	if c.At != nil {
		out = append(out, elsewhere(c, out)...)
	}
	out = append(out, control(c.Factor, out)...)
	if c.At == nil && !slices.ContainsFunc(out, func(l conflict.Level) bool { return !sameSetting(l, out[0]) }) {
		return []conflict.Level{}
	}
	slices.SortStableFunc(out, func(a, b conflict.Level) int { return cmp.Compare(number(a), number(b)) })
	return out
}

// mistaken reports whether a side is a slip of unit: it has no finding of its own,
// and a reason says so of one of its papers.
func mistaken(c conflict.Conflict, s conflict.Side) bool {
	return !s.Found() && slices.ContainsFunc(c.Reasons, func(r conflict.Reason) bool {
		return r.Kind == conflict.UnitSlip && slices.Contains(s.Papers, r.Paper)
	})
}

// ofSide is where side number i stands.
func ofSide(s conflict.Side, i int, c conflict.Conflict) conflict.Level {
	l := conflict.Level{Side: i, Bearing: s.Bearing, Category: s.Category, Claims: slices.Clone(s.Claims)}
	switch {
	case c.At != nil:
		l.Value, l.Category = disputed(c), ""
	case c.Treats() && s.Bearing == evidence.Indifferent && s.Category != string(conflict.Survived):
		// Not needed: the untreated egg will do.
		bare := untreated(c.Factor)
		l.Value, l.Unit, l.Label = bare.Value, bare.Unit, bare.Label
		l.Category = cmp.Or(l.Category, string(conflict.NotNeeded))
		return l
	case c.Treats():
		l.Value = treatment(s, c)
	default:
		if l.Value = stand(s, s.Span().Middle()); l.Value != nil {
			l.Category = ""
		}
	}
	if l.Value != nil {
		l.Unit = cmp.Or(c.Unit(), c.Factor.Unit())
	}
	l.Label = words(l, c.Factor)
	return l
}

// words is the label of a treated level.
func words(l conflict.Level, f evidence.Factor) string {
	switch {
	case l.Value != nil:
		return value.Print(l.Value, l.Value, l.Unit, "")
	case f == evidence.Drying:
		return "dried, for a time that no paper tells"
	case f == evidence.Freezing:
		return "frozen, how cold no paper tells"
	case l.Category == "light-required":
		return "light"
	}
	return l.Category
}

// disputed is the value at which to try whether eggs hatch: of those printed in
// the disputed range the one on which most sides stand, then the one that most
// sources printed, then the one nearest to its middle.
func disputed(c conflict.Conflict) *float64 {
	within := c.Disputed()
	type weight struct{ sides, sources int }
	var best *float64
	var most weight
	for _, v := range printed(c.Sides) {
		at := value.Span{Low: v, High: v}
		if !value.Overlap(c.Factor, at, within) {
			continue
		}
		var w weight
		for _, s := range c.Sides {
			if slices.ContainsFunc(s.Told, func(cl evidence.Claim) bool { return value.Overlap(c.Factor, at, value.SpanOf(cl)) }) {
				w.sides++
			}
			w.sources += sourcesAt(s, v)
		}
		better := cmp.Or(w.sides-most.sides, w.sources-most.sources)
		if best == nil || better > 0 || better == 0 && math.Abs(v-within.Middle()) < math.Abs(*best-within.Middle()) {
			best, most = &v, w
		}
	}
	if best == nil {
		return stand(c.Sides[len(c.Sides)-1], within.Middle())
	}
	return best
}

// printed are the different numbers that sides print in the conflict's unit,
// smallest first.
func printed(sides []conflict.Side) []float64 {
	var out []float64
	for _, s := range sides {
		for _, c := range s.Told {
			for _, v := range []*float64{c.Low, c.High} {
				if v != nil && c.Unit == s.Unit {
					out = append(out, *v)
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// sourcesAt counts the sources of a side that print a number by their own findings.
func sourcesAt(s conflict.Side, v float64) int {
	sources := map[string]bool{}
	for _, c := range s.Told {
		if !c.Secondhand && (c.Low != nil && *c.Low == v || c.High != nil && *c.High == v) {
			sources[s.VoiceOf(c).ID] = true
		}
	}
	return len(sources)
}

// treatment is how long or how cold a side treated the eggs; a side that only
// says that it is needed, or harms, borrows the value of the first that told
// one, then what the sources on such sides saw eggs hatch after, the side's own first.
func treatment(s conflict.Side, c conflict.Conflict) *float64 {
	var treated []conflict.Side
	for _, t := range append([]conflict.Side{s}, c.Sides...) {
		if t.Bearing != evidence.Indifferent || t.Category == string(conflict.Survived) {
			treated = append(treated, t)
		}
	}
	for _, t := range treated {
		if v := stand(t, t.Span().Middle()); v != nil {
			return v
		}
	}
	for _, t := range treated {
		if v := hatchedAfter(t, c.Factor); v != nil {
			return v
		}
	}
	return nil
}

// hatchedAfter is the middle one of the treatments after which the sources of a
// side saw eggs hatch, of two the stronger; nil where they tell none. No time at all
// is no drying.
func hatchedAfter(s conflict.Side, f evidence.Factor) *float64 {
	var all []float64
	for v, c := range favoured([]conflict.Side{s}, f.Unit()) {
		if v != 0 && !c.Secondhand {
			all = append(all, v)
		}
	}
	slices.SortFunc(all, func(a, b float64) int { return cmp.Compare(math.Abs(a), math.Abs(b)) })
	if all = slices.Compact(all); len(all) == 0 {
		return nil
	}
	return &all[len(all)/2]
}

func sameSetting(l, m conflict.Level) bool {
	if l.Unit != m.Unit || (l.Value == nil) != (m.Value == nil) {
		return false
	}
	if l.Value == nil {
		return l.Category == m.Category
	}
	return *l.Value == *m.Value
}

// elsewhere is a level to compare a disputed one with: the middle one of the
// values beside the disputed ones at which those who saw no hatch there saw eggs
// hatch, or anybody where they saw none at all.
func elsewhere(c conflict.Conflict, disputed []conflict.Level) []conflict.Level {
	disputes := func(v float64) bool {
		return value.Overlap(c.Factor, value.Span{Low: v, High: v}, c.Disputed()) || slices.ContainsFunc(disputed, func(l conflict.Level) bool {
			return l.Value != nil && math.Abs(v-*l.Value) <= 2*value.Slack(c.Factor, v)
		})
	}
	for _, sides := range [][]conflict.Side{c.Sides[len(c.Sides)-1:], c.Sides} {
		var others []conflict.Level
		for v, cl := range favoured(sides, c.Sides[0].Unit) {
			if !disputes(v) {
				others = append(others, conflict.Level{Value: &v, Unit: cl.Unit, Label: value.Print(&v, &v, cl.Unit, "") + ", for comparison", Claims: []string{cl.ID}})
			}
		}
		if len(others) > 0 {
			slices.SortStableFunc(others, func(a, b conflict.Level) int { return cmp.Compare(*a.Value, *b.Value) })
			return others[len(others)/2 : len(others)/2+1]
		}
	}
	return nil
}

// favoured yields the printed ends of what the sources on the sides saw favour.
func favoured(sides []conflict.Side, unit string) iter.Seq2[float64, evidence.Claim] {
	return func(yield func(float64, evidence.Claim) bool) {
		for _, s := range sides {
			for _, v := range s.Voices {
				for _, c := range v.Claims {
					if c.Bearing != evidence.Favours || c.Unit != unit {
						continue
					}
					if c.Low != nil && !yield(*c.Low, c) || c.High != nil && !yield(*c.High, c) {
						return
					}
				}
			}
		}
	}
}

func number(l conflict.Level) float64 {
	if l.Value == nil {
		return math.Inf(1)
	}
	return *l.Value
}

// stand is the value that stands for a side: of those it printed the one
// nearest to middle, so that a source of the side would own the level; of two as
// near the lower.
func stand(s conflict.Side, middle float64) *float64 {
	all := printed([]conflict.Side{s})
	if len(all) == 0 {
		return nil
	}
	nearest := slices.MinFunc(all, func(a, b float64) int { return cmp.Compare(math.Abs(a-middle), math.Abs(b-middle)) })
	return &nearest
}

// controlWords names the eggs without the treatment.
var controlWords = map[evidence.Factor]string{
	evidence.Freezing: "not frozen",
	evidence.Trigger:  "flooding alone",
	evidence.Light:    "dark",
}

// untreated is the level of eggs without the treatment.
func untreated(f evidence.Factor) conflict.Level {
	bare, _ := trial.Bare(f)
	l := conflict.Level{Category: bare.Category, Label: "control, " + cmp.Or(controlWords[f], bare.In(f.Unit())), Claims: []string{}}
	if bare.Category == "" {
		l.Value, l.Unit = &bare.Number, f.Unit()
	}
	return l
}

// control is the untreated level, unless a side stands there already. Water has
// always some temperature, salt and oxygen: there is no egg without.
func control(f evidence.Factor, sides []conflict.Level) []conflict.Level {
	if _, ok := trial.Bare(f); !ok {
		return nil
	}
	l := untreated(f)
	if slices.ContainsFunc(sides, func(s conflict.Level) bool { return s.Label == l.Label || sameSetting(l, s) }) {
		return nil
	}
	return []conflict.Level{l}
}

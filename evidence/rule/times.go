package rule

import "hatchlore/evidence"

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

// timesOut gives levels the outcome of the times that are told of them: each level
// of a list that of the time in its place ("at 5, 10 and 15 °C. Hatching took 21, 9 and
// 5 days, respectively"), and the level of a label that of the time behind it.
func (r *reading) timesOut(found []*finding) {
	for i, f := range found {
		if f.factor != evidence.TimeToHatch || f.bearing != evidence.Favours {
			continue
		}
		if f.t.Siblings < 2 {
			timedAlone(around(found, i), f)
			continue
		}
		if f.t.Item != 0 {
			continue
		}
		for _, level := range r.levelsFor(found, f.s, f.t.Siblings) {
			if level.bearing == evidence.Reported {
				level.bearing = evidence.Favours
			}
		}
	}
}

// timedAlone gives the one level that a label names the outcome of the time behind
// it: "20 °C: 38 h".
func timedAlone(found []*finding, timed *finding) {
	for _, f := range found {
		if f.s == timed.s && f.context && f.bearing == evidence.Reported && f.t.Siblings < 2 && f.t.Clause == timed.t.Clause-1 && f.s.Clauses[timed.t.Clause].Colon {
			f.bearing = evidence.Favours
		}
	}
}

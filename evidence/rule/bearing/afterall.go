package bearing

import (
	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// afterAll is what happened under the target where eggs that a relative clause
// without commas tells not to have hatched under one condition hatched under another:
// "eggs that had failed at 18 °C hatched at 6 °C".
func (r *Judged) afterAll(s *marked.Sentence, t *marked.Target) (evidence.Bearing, bool) {
	if t.Q == nil || t.Kind == "fraction" {
		return "", false
	}
	c := s.Clauses[t.Clause]
	for _, rel := range s.Tags {
		if rel.From < c.From || rel.To > c.To || !r.Roles.Restrictive.Has(rel.Class) {
			continue
		}
		failed := r.failsBehind(s, rel)
		hatched := r.hatchesLater(s, c, failed)
		switch {
		case hatched < 0:
		case t.From > hatched:
			return evidence.Favours, true
		case t.From >= failed:
			return evidence.Prevents, true
		}
	}
	return "", false
}

// failsBehind is the word behind that which says, shortly behind the relative word,
// that eggs failed or did not hatch; -1 for none.
func (r *Judged) failsBehind(s *marked.Sentence, rel marked.Tag) int {
	const reach = 6
	ro := r.Roles
	for _, g := range s.Tags {
		if g.From < rel.To || g.From-rel.To >= reach {
			continue
		}
		if ro.Adverse.Has(g.Class) && !ro.Reduce.Has(g.Class) && !s.Between(rel.To, g.From, ro.Neg) || ro.Event.Has(g.Class) && s.Between(rel.To, g.From, ro.Neg) {
			return g.To
		}
	}
	return -1
}

// hatchesLater is the word in clause c that says that eggs hatched, with a condition
// between it and word failed, and no further denial; -1 for none.
func (r *Judged) hatchesLater(s *marked.Sentence, c marked.Clause, failed int) int {
	if failed < 0 {
		return -1
	}
	for _, o := range s.Targets {
		if o.Q == nil || o.Kind == "fraction" || o.From < failed || o.From >= c.To {
			continue
		}
		for _, e := range s.Tags {
			if r.Roles.Event.Has(e.Class) && e.From >= o.To && e.From < c.To && !s.Between(failed, c.To, r.Roles.Neg) {
				return e.From
			}
		}
	}
	return -1
}

package bearing

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/marked"
)

// Outcome is what the text says happened under the target: in its own clause,
// else in the next clause of the sentence that goes on from it, else in the
// one before.
func (r *Judged) Outcome(s *marked.Sentence, t *marked.Target) (b evidence.Bearing, borrowed bool) {
	c := s.Clauses[t.Clause]
	if r.spurned(s, t) {
		return evidence.Prevents, false
	}
	if r.beforeTurn(s, t) {
		return evidence.Prevents, false
	}
	if b, ok := r.afterAll(s, t); ok {
		return b, false
	}
	if r.leftBehind(s, t) {
		return evidence.Reported, false
	}
	if k := t.Clause + 1; k < len(s.Clauses) && s.Clauses[k].Colon && s.Clauses[k].Bears == evidence.Prevents && r.elliptic(s, &c) && r.lends(s, k, t) {
		return evidence.Prevents, true // "fill it with water of 15 °C: no egg will hatch"
	}
	if c.Bears != marked.Unsaid {
		b := r.saidOf(s, t.Clause, t)
		if (b == evidence.Indifferent || c.Has.Meets(r.Roles.Idle)) && r.circumstance(s, c, t) {
			b = evidence.Reported
		}
		return b, false
	}
	if c.Has.Meets(r.Roles.Aim) {
		return marked.Unsaid, false
	}
	if k := t.Clause + 2; k < len(s.Clauses) && r.Inserts(s, k-1) && !s.Clauses[k].Strong && r.lends(s, k, t) {
		return r.saidOf(s, k, t), true
	}
	if k := t.Clause + 1; k < len(s.Clauses) && (!s.Clauses[k].Strong || r.tells(s, k, c) || c.Has.Meets(r.Roles.Emergence) && !sharesLevel(s, k, t)) && r.lends(s, k, t) {
		return r.saidOf(s, k, t), true
	}
	if k := t.Clause + 1; k < len(s.Clauses) && s.Clauses[k].Bears == evidence.Favours && r.concedes(s, k) && !r.Conditioned(s, k) {
		return r.saidOf(s, k, t), true // "our dishes were aerated and yet hatched well"
	}
	if k := t.Clause - 1; k >= 0 && (!c.Strong || c.Colon) && !(s.Clauses[k].Bears == evidence.Prevents && r.Instructs(s, c)) && r.lends(s, k, t) {
		return r.saidOf(s, k, t), true
	}
	return marked.Unsaid, false
}

// beforeTurn reports whether the target is the condition that did not do, where
// another of its kind is named behind "until" or "unless": "at 10 °C they did not
// hatch until warmed to 17 °C".
func (r *Judged) beforeTurn(s *marked.Sentence, t *marked.Target) bool {
	if t.Q == nil || t.Kind == "fraction" || t.Kind == "duration" || s.Clauses[t.Clause].Bears != evidence.Favours {
		return false
	}
	c := s.Clauses[t.Clause]
	for _, g := range s.Tags {
		if !r.Roles.Lift.Has(g.Class) || g.From < t.To || g.To > c.To || !s.Between(g.From, c.To, r.Roles.Event) {
			continue
		}
		for _, o := range s.Targets {
			if o.Q != nil && o.Q != t.Q && o.Class == t.Class && o.From >= g.To && o.From < c.To {
				return true
			}
		}
	}
	return false
}

// leftBehind reports whether the target is the condition that eggs came from: "when
// brine of 120 g/L was diluted to 30 g/L they hatched".
func (r *Judged) leftBehind(s *marked.Sentence, t *marked.Target) bool {
	if t.Q == nil || t.Siblings > 1 || t.Kind == "fraction" || t.Kind == "duration" || s.Clauses[t.Clause].Bears != evidence.Favours {
		return false
	}
	return slices.ContainsFunc(s.Targets, func(o *marked.Target) bool {
		if o.Q == nil || o.Q == t.Q || o.Class != t.Class || o.Clause != t.Clause {
			return false
		}
		to := s.StepBack(o.From, r.Roles.BroughtTo)
		return to != o.From && to >= t.To
	})
}

// saidOf is what clause k says happened under the target. Where it says that
// lots treated in two ways hatched alike ("undried eggs hatched as well as
// dried ones at 12 °C"), a value is a condition under which both did.
func (r *Judged) saidOf(s *marked.Sentence, k int, t *marked.Target) evidence.Bearing {
	c := &s.Clauses[k]
	if c.Bears == evidence.Indifferent && t.Q != nil && c.Basis >= 0 && (c.Has.Meets(r.Roles.Hatch) || k != t.Clause && HasShare(s, &s.Clauses[t.Clause])) && s.OverlapsTag(s.Tags[c.Basis], r.Roles.Alike) {
		return evidence.Favours
	}
	return c.Bears
}

// circumstance reports whether the target says only under what something else
// made no difference: "nitrogen, given at 4 °C, did nothing".
func (r *Judged) circumstance(s *marked.Sentence, c marked.Clause, t *marked.Target) bool {
	if t.High != nil && *t.High <= 0 && t.Kind == "temperature" {
		return false // frost is the agent itself
	}
	switch t.Kind {
	case "temperature", "salinity", "conductivity", "ph":
		return s.StepBack(t.From, r.Roles.Prep) != t.From && !c.Has.Meets(r.Roles.Chill) && s.Between(c.From, t.From, r.Roles.Agent)
	}
	return false
}

// lends reports whether what clause k says happened may hold for the target
// of another clause: not where it came of a condition of its own.
func (r *Judged) lends(s *marked.Sentence, k int, t *marked.Target) bool {
	b := s.Clauses[k].Bears
	if b != evidence.Prevents {
		return b != marked.Unsaid
	}
	if s.Clauses[k].Has.Meets(r.Roles.Absence) {
		return false // "keep the lamp on, for without light none hatch"
	}
	for _, o := range s.Targets {
		if o.Q != nil && o.Clause == k && o.Kind != "fraction" && o.Kind != "duration" && o.Class != t.Class {
			return false
		}
	}
	return true
}

// concedes reports whether clause k begins with "and yet", "nevertheless" or the
// like: it happened under the condition all the same.
func (r *Judged) concedes(s *marked.Sentence, k int) bool {
	c := s.Clauses[k]
	return slices.ContainsFunc(s.Tags, func(g marked.Tag) bool {
		return r.Roles.Nevertheless.Has(g.Class) && g.From >= c.From-1 && g.From <= c.From+1
	})
}

// tells reports whether clause k, behind a colon or dash, says what happened
// under the condition that c is: "16 °C – no hatch".
func (r *Judged) tells(s *marked.Sentence, k int, c marked.Clause) bool {
	next := s.Clauses[k]
	return (next.Colon || next.Dash) && r.label(c)
}

// label reports whether c is no more than a condition that a colon opens
// ("25 °C: 40 % hatched").
func (r *Judged) label(c marked.Clause) bool {
	const short = 6
	return c.To-c.From <= short && !c.Has.Meets(r.Roles.Event)
}

// sharesLevel reports whether clause k has a condition of the target's kind of
// its own: "70 % emerged at 24 °C, whereas 64 % hatched at 12 °C".
func sharesLevel(s *marked.Sentence, k int, t *marked.Target) bool {
	return slices.ContainsFunc(s.Targets, func(o *marked.Target) bool { return o.Q != nil && o.Clause == k && o.Class == t.Class })
}

// Conditioned reports whether clause k names a condition of its own.
func (r *Judged) Conditioned(s *marked.Sentence, k int) bool {
	c := s.Clauses[k]
	return c.Has.Meets(r.Roles.Treat) || c.Has.Meets(r.Roles.Absence) || slices.ContainsFunc(s.Targets, func(t *marked.Target) bool {
		return t.Clause == k && t.Kind != "fraction" && t.Kind != "duration"
	})
}

// Inserts reports whether clause k is a relative one between commas, behind which
// the clause before it goes on: "10 °C, which others found best, prevented hatching".
func (r *Judged) Inserts(s *marked.Sentence, k int) bool {
	c := s.Clauses[k]
	return s.Words[c.From].Before&lexicon.AfterComma != 0 && s.Tagged(c.From, r.Roles.Relative) && c.To < len(s.Words) && s.Words[c.To].Before&(lexicon.AfterComma|lexicon.AfterClose) != 0
}

// Instructs reports whether the clause opens with an instruction.
func (r *Judged) Instructs(s *marked.Sentence, c marked.Clause) bool {
	const opening = 2
	return !c.Has.Meets(r.Roles.Past) && slices.ContainsFunc(s.Tags, func(g marked.Tag) bool {
		return r.Roles.Instruct.Has(g.Class) && g.From >= c.From && g.From <= c.From+opening && !s.Between(c.From, g.From, r.Roles.Topic)
	})
}

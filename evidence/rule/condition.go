package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/marked"
	"hatchlore/evidence/rule/syntax"
)

// fits reports whether every when and no unless of the rule holds.
func (r *reading) fits(s *marked.Sentence, t *marked.Target, c *compiled) bool {
	for i := range c.when {
		if !r.holds(s, t, &c.when[i]) {
			return false
		}
	}
	for i := range c.unless {
		if r.holds(s, t, &c.unless[i]) {
			return false
		}
	}
	return true
}

func (r *reading) holds(s *marked.Sentence, t *marked.Target, c *test) bool {
	switch c.Op {
	case syntax.OpIn:
		return r.inScope(s, t, c)
	case syntax.OpBefore:
		return s.Within(t, c.refs, c.Words, 0)
	case syntax.OpAfter:
		return s.Within(t, c.refs, 0, c.Words)
	case syntax.OpNear:
		return s.Within(t, c.refs, c.Words, c.Words)
	case syntax.OpHere:
		return s.Overlaps(t, c.refs)
	case syntax.OpNearest:
		g := s.Nearest(t, c.among)
		return g != nil && c.refs.Has(g.Class)
	case syntax.OpValue:
		return compare(t, c.Cmp, c.Number)
	case syntax.OpBears:
		b, _ := r.Outcome(s, t)
		for _, want := range c.Refs {
			if want == string(b) || want == "unsaid" && b == marked.Unsaid {
				return true
			}
		}
	case syntax.OpSeveral:
		return t.Siblings > 1
	case syntax.OpLevel:
		return r.isLevel(s, t, evidence.Factor(c.Refs[0]))
	case syntax.OpBeside:
		return slices.ContainsFunc(s.Targets, func(o *marked.Target) bool {
			return o.Q != nil && o.Q != t.Q && o.Clause == t.Clause && r.isLevel(s, o, evidence.Factor(c.Refs[0]))
		})
	case syntax.OpFollows:
		return r.follows(s, t, evidence.Factor(c.Refs[0]))
	}
	return false
}

// isLevel reports whether a sentence shortly before gave this very value to
// the factor.
func (r *reading) isLevel(s *marked.Sentence, t *marked.Target, factor evidence.Factor) bool {
	for i := len(r.recent) - 1; i >= 0; i-- {
		f := r.recent[i]
		if s.Index-f.s.Index > marked.Reach || f.s.Region != s.Region {
			return false
		}
		if f.factor == factor && f.s != s && quantity.Same(f.low, t.Low) && quantity.Same(f.high, t.High) {
			return true
		}
	}
	return false
}

// follows reports whether the quantity of the same kind before the target in its
// sentence was claimed for the factor, or with "none" kept silent, and the target
// goes on from it.
func (r *reading) follows(s *marked.Sentence, t *marked.Target, factor evidence.Factor) bool {
	for i := len(r.recent) - 1; i >= 0 && r.recent[i].s == s; i-- {
		f := r.recent[i]
		if f.t.Class != t.Class || f.t.Q == t.Q {
			continue
		}
		if factor == "none" {
			return r.goesOnOfLife(s, f, t)
		}
		return f.factor == factor && r.goesOn(s, f.t, t)
	}
	return false
}

// goesOnOfLife reports whether f was kept silent for what it says of animals, and
// the target's clause goes on about them.
func (r *reading) goesOnOfLife(s *marked.Sentence, f *finding, t *marked.Target) bool {
	c := s.Clauses[t.Clause]
	return f.rule.Silent && s.Clauses[f.t.Clause].Has.Meets(r.Roles.Life) && !c.Has.Meets(r.Roles.Hatch) &&
		(f.t.Clause == t.Clause || !c.Has.Meets(r.Roles.Topic))
}

// goesOn reports whether the target goes on from another: right behind it, behind a
// comma, an "and" or with a preposition of its own in its clause, or in a later clause that
// names no treatment.
func (r *reading) goesOn(s *marked.Sentence, last, t *marked.Target) bool {
	switch {
	case t.From-last.To <= 1:
		return true
	case last.Clause < t.Clause:
		return !s.Clauses[t.Clause].Has.Meets(r.Roles.Treat)
	case last.Clause > t.Clause:
		return false
	}
	return s.StepBack(t.From, r.Roles.Coord) != t.From || t.Kind == "temperature" && s.StepBack(t.From, r.Roles.Prep) != t.From || s.Words[t.From].Before&lexicon.AfterComma != 0
}

func (r *reading) inScope(s *marked.Sentence, t *marked.Target, c *test) bool {
	switch c.Scope {
	case "clause":
		return s.Elsewhere(t, c.refs, s.Clauses[t.Clause].From, s.Clauses[t.Clause].To)
	case "sentence":
		return s.Elsewhere(t, c.refs, 0, len(s.Words))
	case "previous":
		return r.Neighbour(s, -1).Meets(c.refs)
	case "next":
		return r.Neighbour(s, 1).Meets(c.refs)
	case "around":
		return s.Has.Meets(c.refs) || r.Neighbour(s, -1).Meets(c.refs) || r.Neighbour(s, 1).Meets(c.refs)
	case "about":
		return s.Has.Meets(c.refs) || r.Neighbour(s, -1).Meets(c.refs) || r.Neighbour(s, 1).Meets(c.refs) || r.Neighbour(s, -2).Meets(c.refs) ||
			r.Title.Meets(c.refs) || s.Head.Meets(c.refs)
	case "block":
		if s.Has.Meets(c.refs) {
			return true
		}
		for d := 1; d <= marked.Reach; d++ {
			if r.Neighbour(s, -d).Meets(c.refs) || r.Neighbour(s, d).Meets(c.refs) {
				return true
			}
		}
	case "title":
		return r.Title.Meets(c.refs) || s.Head.Meets(c.refs)
	}
	return false
}

// compare reports whether every end of the target's number stands to v as cmp says.
func compare(t *marked.Target, cmp string, v float64) bool {
	if t.Low == nil && t.High == nil {
		return false
	}
	holds := func(x *float64) bool {
		switch {
		case x == nil:
			return true
		case cmp == "<":
			return *x < v
		case cmp == "<=":
			return *x <= v
		case cmp == ">":
			return *x > v
		}
		return *x >= v
	}
	return holds(t.Low) && holds(t.High)
}

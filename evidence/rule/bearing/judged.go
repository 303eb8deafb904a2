// Package bearing says of every clause of a marked text how it bears on hatching:
// that eggs hatched, that they did not, that something made no difference, or
// nothing; and what holds of that for a value that stands in the clause or
// beside it.
//
// It knows neither factors nor rules, and judges no condition by its size: that
// 40 °C kills is for the paper to say.
package bearing

import (
	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// Judged is a text of whose clauses it is known how they bear on hatching.
type Judged struct {
	*marked.Text
	Apart bool // the paper tells emergence from hatching
}

// Judge decides for every clause of a text what it says about hatching.
func Judge(t *marked.Text) *Judged {
	j := &Judged{Text: t}
	j.Apart = j.tellsApart()
	for _, s := range t.Sentences {
		j.judge(s)
	}
	return j
}

// judge decides for every clause of s what it says about hatching.
func (r *Judged) judge(s *marked.Sentence) {
	r.flipNeeds(s)
	for i := range s.Clauses {
		c := &s.Clauses[i]
		c.Bears, c.Basis = r.own(s, c)
	}
	r.likewise(s)
	for i := 1; i < len(s.Clauses); i++ {
		c := &s.Clauses[i]
		if c.Resumes && r.elliptic(s, c) && c.Bears == marked.Unsaid {
			c.Has.Join(s.Clauses[i-1].Has)
			c.Bears = s.Clauses[i-1].Bears
		} else if c.Bears == marked.Unsaid && r.elliptic(s, c) {
			r.inherit(s, c, s.Clauses[i-1])
		}
	}
}

// likewise gives a sentence that begins with "neither", "so did" or the like,
// and has no word of its own for what happened, the finding of the sentence
// before it.
func (r *Judged) likewise(s *marked.Sentence) {
	const opening = 2
	before := r.Beside(s, -1)
	c := &s.Clauses[0]
	if before == nil || c.Bears != marked.Unsaid || !r.elliptic(s, c) {
		return
	}
	for _, g := range s.Tags {
		if r.Roles.Likewise.Has(g.Class) && g.From < opening {
			if last := before.Clauses[len(before.Clauses)-1]; last.Bears != evidence.Favours || !c.Has.Meets(r.Roles.Neg) {
				c.Bears = last.Bears
			}
			return
		}
	}
}

// inherit gives an elliptic clause ("but not at 20 °C", "at 25 °C a single
// one") the event of the clause before it.
func (r *Judged) inherit(s *marked.Sentence, c *marked.Clause, before marked.Clause) {
	if before.Bears == marked.Unsaid {
		return
	}
	if c.Has.Meets(r.Roles.ProVerb) && !c.Has.Meets(r.Roles.Neg) && before.Bears != evidence.Favours {
		c.Bears = evidence.Favours // "neither light nor oxygen made them hatch; a fall to 8 °C did"
		return
	}
	if c.Has.Meets(r.Roles.Handful) && !c.Has.Meets(r.Roles.Neg) && before.Bears == evidence.Prevents {
		c.Bears = evidence.Favours // "after 10 days not an egg hatched, and after 20 days only two"
		return
	}
	if c.Has.Meets(r.Roles.Neg) {
		if before.Bears == evidence.Favours && r.onlyTurnsBounds(s, c) {
			c.Bears = evidence.Favours
			return
		}
		c.Bears = evidence.Prevents
		if before.Bears == evidence.Prevents && !before.Has.Meets(r.Roles.Adverse) {
			c.Bears = evidence.Favours
		}
	}
}

// elliptic reports whether c has no word of its own for what happened.
func (r *Judged) elliptic(s *marked.Sentence, c *marked.Clause) bool {
	ro := r.Roles
	return !c.Has.Meets(ro.Event) && !c.Has.Meets(ro.Adverse) && !c.Has.Meets(ro.Life)
}

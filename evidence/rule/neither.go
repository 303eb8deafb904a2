package rule

import (
	"hatchlore/evidence"
	"hatchlore/evidence/rule/marked"
)

// neitherNeeded adds what a sentence denies of the two treatments named right
// before it: "frost harmed the eggs of A. una; drying raised their hatch. In B.
// altera neither of the two was needed".
func (r *reading) neitherNeeded(found []*finding) []*finding {
	for _, s := range r.Sentences {
		for _, g := range s.Tags {
			if !r.Roles.NeitherOf.Has(g.Class) {
				continue
			}
			if c := s.Clauses[s.ClauseAt(g.From)]; c.Has.Meets(r.Roles.Need) || c.Has.Meets(r.Roles.NoNeed) || c.Bears == evidence.Indifferent {
				found = r.denyEach(found, s, g)
			}
		}
	}
	return found
}

// denyEach adds, behind what the sentence before s claims, that its drying and
// its freezing were not required by whom s names.
func (r *reading) denyEach(found []*finding, s *marked.Sentence, g marked.Tag) []*finding {
	who := lastGroup(s, len(s.Words), 0)
	before := r.Beside(s, -1)
	if who == nil || before == nil {
		return found
	}
	at := &marked.Target{Span: marked.Span{Start: s.Words[g.From].Start, End: s.Words[g.To-1].End}, Class: g.Class, From: g.From, To: g.To, At: g.From, Clause: s.ClauseAt(g.From), Siblings: 1}
	var added []*finding
	end := 0
	for i, f := range found {
		if f.s.Index <= s.Index {
			end = i + 1
		}
		if f.s != before || f.factor != evidence.Drying && f.factor != evidence.Freezing {
			continue
		}
		denied := &finding{s: s, t: at, rule: f.rule, bearing: evidence.Indifferent, factor: f.factor, category: "not-required", subject: subject{who.Names, 0.93}}
		denied.names = r.namesOf(s, denied.subject)
		added = append(added, denied)
	}
	if len(added) != 2 || added[0].factor == added[1].factor {
		return found
	}
	return append(found[:end:end], append(added, found[end:]...)...)
}

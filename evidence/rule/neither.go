package rule

import "hatchlore/evidence"

// neitherNeeded adds what a sentence denies of the two treatments named right
// before it: "frost harmed the eggs of A. una; drying raised their hatch. In B.
// altera neither of the two was needed".
func (r *reading) neitherNeeded(found []*finding) []*finding {
	for _, s := range r.sentences {
		for _, g := range s.tags {
			if !r.roles.NeitherOf.has(g.class) {
				continue
			}
			if c := s.clauses[s.clauseAt(g.from)]; c.has.meets(r.roles.Need) || c.has.meets(r.roles.NoNeed) || c.bears == evidence.Indifferent {
				found = r.denyEach(found, s, g)
			}
		}
	}
	return found
}

// denyEach adds, behind what the sentence before s claims, that its drying and
// its freezing were not required by whom s names.
func (r *reading) denyEach(found []*finding, s *sentence, g tag) []*finding {
	who := lastGroup(s, len(s.words), 0)
	before := r.at(s.index-1, s.region)
	if who == nil || before == nil {
		return found
	}
	at := &target{span: span{s.words[g.from].Start, s.words[g.to-1].End}, class: g.class, from: g.from, to: g.to, at: g.from, clause: s.clauseAt(g.from), siblings: 1}
	var added []*finding
	end := 0
	for i, f := range found {
		if f.index <= s.index {
			end = i + 1
		}
		if f.s != before || f.factor != evidence.Drying && f.factor != evidence.Freezing {
			continue
		}
		denied := &finding{s: s, index: s.index, t: at, rule: f.rule, bearing: evidence.Indifferent, factor: f.factor, category: "not-required", subject: subject{who.names, 0.93}}
		denied.names = r.namesOf(s, denied.subject)
		added = append(added, denied)
	}
	if len(added) != 2 || added[0].factor == added[1].factor {
		return found
	}
	return append(found[:end:end], append(added, found[end:]...)...)
}

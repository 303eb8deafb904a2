package rule

import (
	"cmp"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/bearing"
	"hatchlore/evidence/rule/marked"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// finding is a claim on its way: what a rule concluded about one target.
type finding struct {
	s        *marked.Sentence
	t        *marked.Target
	rule     *compiled
	bearing  evidence.Bearing
	context  bool // the bearing is to be settled from the neighbourhood
	borrowed bool // the outcome stands in another clause
	factor   evidence.Factor
	category string
	low      *float64
	high     *float64
	subject  subject
	names    []string
	stage    evidence.Stage // where it is not that of the clause
	dropped  bool
}

// reading is a judged text on its way to claims.
type reading struct {
	*bearing.Judged
	set     *Set
	recent  []*finding          // so far, in order
	lead    lead                // the first names in the text
	species map[string][]string // that the text names, by genus
}

// firing is one rule that acted on one target, with or without a claim.
type firing struct {
	rule string
	s    *marked.Sentence
	t    *marked.Target
}

// Match returns the claims of doc in reading order. Every claim is sound by
// [evidence.Claim.Lint].
func (s *Set) Match(doc *ingest.Document) []evidence.Claim {
	return s.MatchNamed(doc, Names(doc))
}

// MatchNamed is [Set.Match] for a document whose names were looked for already.
func (s *Set) MatchNamed(doc *ingest.Document, names *name.Scope) []evidence.Claim {
	found, _ := s.runNamed(doc, names)
	out := make([]evidence.Claim, 0, len(found))
	for _, e := range found {
		out = append(out, e.Claim)
	}
	return out
}

// MatchExplained is [Set.Match] with the reasons for each claim.
func (s *Set) MatchExplained(doc *ingest.Document) []Explained {
	found, _ := s.run(doc)
	return found
}

// Names looks for the names of a document.
func Names(doc *ingest.Document) *name.Scope {
	texts := make([]string, len(doc.Pages))
	for i, p := range doc.Pages {
		texts[i] = p.Text
	}
	return name.NewScope(doc.Title, texts...)
}

func (s *Set) run(doc *ingest.Document) ([]Explained, []firing) { return s.runNamed(doc, Names(doc)) }

func (s *Set) runNamed(doc *ingest.Document, names *name.Scope) ([]Explained, []firing) {
	r := s.read(doc, names)
	var (
		found  []*finding
		fired  []firing
		inView focus
	)
	for _, st := range r.Sentences {
		if st.Region != inView.region {
			inView = r.focusIn(st.Region)
		}
		fs, all := r.decide(st, &inView)
		found, fired = append(found, fs...), append(fired, all...)
		r.follow(&inView, st)
	}
	found = r.settle(found)
	return r.withStage(r.withTables(found)), fired
}

// read marks a document and judges its clauses.
func (s *Set) read(doc *ingest.Document, names *name.Scope) *reading {
	r := &reading{Judged: bearing.Judge(s.words.Mark(doc, names)), set: s}
	r.lead, r.species = r.firstNamed(), r.speciesNamed()
	return r
}

// decide runs every family of rules over the targets of one sentence.
func (r *reading) decide(s *marked.Sentence, f *focus) (found []*finding, fired []firing) {
	for _, t := range s.Targets {
		if c := &s.Clauses[t.Clause]; t.Broken || c.Has.Meets(r.Roles.Subitaneous) || r.KillsYoung(c) {
			continue
		}
		done := map[string]bool{}
		for _, c := range r.set.byTarget[t.Class] {
			family := c.Family()
			if done[family] || !r.fits(s, t, c) {
				continue
			}
			done[family] = true
			fired = append(fired, firing{c.ID, s, t})
			if c.Silent {
				r.recent = append(r.recent, &finding{s: s, t: t, rule: c})
				continue
			}
			if fd := r.conclude(s, t, c); fd != nil {
				fd.subject = r.subjects(s, t, f)
				if all := r.everyone(fd, f); all != nil {
					fd.subject.names = all
				}
				found = append(found, fd)
				r.recent = append(r.recent, fd)
			}
		}
	}
	return found, fired
}

// triggerOf is the category of trigger that a class of cues names.
var triggerOf = map[string]string{
	"lowoxygen": "low-oxygen", "nitrogen": "low-oxygen", "oxygenalone": "low-oxygen", "carbondioxide": "carbon-dioxide", "temprise": "temperature-rise", "tempdrop": "temperature-drop",
	"salinitydrop": "salinity-drop", "osmotic": "osmotic", "chemical": "chemical", "mechanical": "mechanical",
	"rainfall": "flooding", "flood": "flooding", "wet": "flooding", "light": "light",
}

// ownCategory is the category that the target itself names: a photoperiod's
// ratio, or what a cue for a trigger stands for.
func (r *reading) ownCategory(t *marked.Target) string {
	if t.Q != nil {
		return t.Q.Regime()
	}
	return triggerOf[r.ClassName(t.Class)]
}

// conclude turns a rule that fits into a finding; nil where the rule claims
// nothing after all.
func (r *reading) conclude(s *marked.Sentence, t *marked.Target, c *compiled) *finding {
	if s.Caption && t.Q == nil && s.Clauses[t.Clause].Bears == marked.Unsaid && c.Claim.Bearing != "outcome" {
		return nil // names what a figure shows
	}
	f := &finding{s: s, t: t, rule: c, factor: c.Claim.Factor, category: c.Claim.Category}
	said := c.Claim.Bearing
	if said == "outcome" {
		b, borrowed := r.Outcome(s, t)
		if said = string(b); b == marked.Unsaid {
			said = c.Claim.Else
		}
		f.borrowed = borrowed
	}
	switch said {
	case "", "none":
		return nil
	case "context":
		f.context = true
	default:
		f.bearing = evidence.Bearing(said)
	}
	f.low, f.high = bounded(t.Low, t.High, c.Claim.Bound)
	if f.category == "own" {
		f.category = r.ownCategory(t)
	}
	if f.factor == evidence.HatchingFraction {
		f.context, f.bearing = false, evidence.Favours
		if f.high != nil && *f.high == 0 {
			f.bearing = evidence.Prevents
		}
	}
	if f.low == nil && f.high == nil && f.category == "" {
		return nil
	}
	return f
}

// bounded keeps what a claim line wants of a number: its low end as a floor, its high
// end as a ceiling, nothing, or all.
func bounded(low, high *float64, bound string) (*float64, *float64) {
	switch bound {
	case "floor":
		return cmp.Or(low, high), nil
	case "ceiling":
		return nil, cmp.Or(high, low)
	case "bare":
		return nil, nil
	}
	return low, high
}

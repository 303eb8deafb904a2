package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/bearing"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/marked"
	"hatchlore/evidence/rule/syntax"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// finding is a claim on its way: what a rule concluded about one target.
type finding struct {
	s        *marked.Sentence
	index    int // of the sentence
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
	for i, st := range r.Sentences {
		if st.Region != inView.region {
			inView = r.focusIn(st.Region)
		}
		fs, all := r.decide(i, st, &inView)
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
func (r *reading) decide(index int, s *marked.Sentence, f *focus) (found []*finding, fired []firing) {
	for _, t := range s.Targets {
		if c := &s.Clauses[t.Clause]; t.Broken || c.Has.Meets(r.Roles.Subitaneous) || r.KillsYoung(c) {
			continue
		}
		done := map[string]bool{}
		for _, c := range r.set.byTarget[t.Class] {
			family := c.Family()
			if done[family] || !r.fits(index, s, t, c) {
				continue
			}
			done[family] = true
			fired = append(fired, firing{c.ID, s, t})
			if c.Silent {
				r.recent = append(r.recent, &finding{s: s, index: index, t: t, rule: c})
				continue
			}
			if fd := r.conclude(index, s, t, c); fd != nil {
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

// fits reports whether every when and no unless of the rule holds.
func (r *reading) fits(index int, s *marked.Sentence, t *marked.Target, c *compiled) bool {
	for i := range c.when {
		if !r.holds(index, s, t, &c.when[i]) {
			return false
		}
	}
	for i := range c.unless {
		if r.holds(index, s, t, &c.unless[i]) {
			return false
		}
	}
	return true
}

func (r *reading) holds(index int, s *marked.Sentence, t *marked.Target, c *test) bool {
	switch c.Op {
	case syntax.OpIn:
		return r.inScope(index, s, t, c)
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
		return r.isLevel(index, s, t, evidence.Factor(c.Refs[0]))
	case syntax.OpBeside:
		return slices.ContainsFunc(s.Targets, func(o *marked.Target) bool {
			return o.Q != nil && o.Q != t.Q && o.Clause == t.Clause && r.isLevel(index, s, o, evidence.Factor(c.Refs[0]))
		})
	case syntax.OpFollows:
		return r.follows(s, t, evidence.Factor(c.Refs[0]))
	}
	return false
}

// isLevel reports whether a sentence shortly before gave this very value to
// the factor.
func (r *reading) isLevel(index int, s *marked.Sentence, t *marked.Target, factor evidence.Factor) bool {
	for i := len(r.recent) - 1; i >= 0; i-- {
		f := r.recent[i]
		if index-f.index > marked.Reach || f.s.Region != s.Region {
			return false
		}
		if f.factor == factor && f.s != s && quantity.Same(f.low, t.Low) && quantity.Same(f.high, t.High) {
			return true
		}
	}
	return false
}

// follows reports whether the quantity of the same kind before the target in
// its sentence was claimed for the factor, and the target's clause has no
// head of its own beside shares and outcomes.
func (r *reading) follows(s *marked.Sentence, t *marked.Target, factor evidence.Factor) bool {
	for i := len(r.recent) - 1; i >= 0 && r.recent[i].s == s; i-- {
		f := r.recent[i]
		if f.t.Class != t.Class || f.t.Q == t.Q {
			continue
		}
		if factor == "none" {
			c := s.Clauses[t.Clause]
			return f.rule.Silent && s.Clauses[f.t.Clause].Has.Meets(r.Roles.Life) && !c.Has.Meets(r.Roles.Hatch) &&
				(f.t.Clause == t.Clause || !c.Has.Meets(r.Roles.Topic))
		}
		return f.factor == factor && (t.From-f.t.To <= 1 || f.t.Clause < t.Clause && !s.Clauses[t.Clause].Has.Meets(r.Roles.Treat) ||
			f.t.Clause == t.Clause && (t.Kind == "temperature" && s.StepBack(t.From, r.Roles.Prep) != t.From || s.Words[t.From].Before&lexicon.AfterComma != 0))
	}
	return false
}

func (r *reading) inScope(index int, s *marked.Sentence, t *marked.Target, c *test) bool {
	switch c.Scope {
	case "clause":
		return s.Elsewhere(t, c.refs, s.Clauses[t.Clause].From, s.Clauses[t.Clause].To)
	case "sentence":
		return s.Elsewhere(t, c.refs, 0, len(s.Words))
	case "previous":
		return r.Neighbour(index, -1).Meets(c.refs)
	case "next":
		return r.Neighbour(index, 1).Meets(c.refs)
	case "around":
		return s.Has.Meets(c.refs) || r.Neighbour(index, -1).Meets(c.refs) || r.Neighbour(index, 1).Meets(c.refs)
	case "about":
		return s.Has.Meets(c.refs) || r.Neighbour(index, -1).Meets(c.refs) || r.Neighbour(index, 1).Meets(c.refs) || r.Neighbour(index, -2).Meets(c.refs) ||
			r.Title.Meets(c.refs) || s.Head.Meets(c.refs)
	case "block":
		if s.Has.Meets(c.refs) {
			return true
		}
		for d := 1; d <= marked.Reach; d++ {
			if r.Neighbour(index, -d).Meets(c.refs) || r.Neighbour(index, d).Meets(c.refs) {
				return true
			}
		}
	case "title":
		return r.Title.Meets(c.refs) || s.Head.Meets(c.refs)
	}
	return false
}

func compare(t *marked.Target, cmp string, v float64) bool {
	if t.Low == nil && t.High == nil {
		return false
	}
	for _, x := range []*float64{t.Low, t.High} {
		if x == nil {
			continue
		}
		ok := map[string]bool{"<": *x < v, "<=": *x <= v, ">": *x > v, ">=": *x >= v}[cmp]
		if !ok {
			return false
		}
	}
	return true
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
func (r *reading) conclude(index int, s *marked.Sentence, t *marked.Target, c *compiled) *finding {
	if s.Caption && t.Q == nil && s.Clauses[t.Clause].Bears == marked.Unsaid && c.Claim.Bearing != "outcome" {
		return nil // names what a figure shows
	}
	f := &finding{s: s, index: index, t: t, rule: c, factor: c.Claim.Factor, category: c.Claim.Category, low: t.Low, high: t.High}
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
	switch c.Claim.Bound {
	case "floor":
		if f.low == nil {
			f.low = f.high
		}
		f.high = nil
	case "ceiling":
		if f.high == nil {
			f.high = f.low
		}
		f.low = nil
	case "bare":
		f.low, f.high = nil, nil
	}
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

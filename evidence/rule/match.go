package rule

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// finding is a claim on its way: what a rule concluded about one target.
type finding struct {
	s        *sentence
	index    int // of the sentence
	t        *target
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

// firing is one rule that acted on one target, with or without a claim.
type firing struct {
	rule string
	s    *sentence
	t    *target
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
	r.set = s
	r.lead, r.species = r.firstNamed(), r.speciesNamed()
	r.apart = r.tellsApart()
	for _, st := range r.sentences {
		r.judge(st)
	}
	var (
		found  []*finding
		fired  []firing
		inView focus
	)
	for i, st := range r.sentences {
		if st.region != inView.region {
			inView = r.focusIn(st.region)
		}
		fs, all := r.decide(i, st, &inView)
		found, fired = append(found, fs...), append(fired, all...)
		r.follow(&inView, st)
	}
	found = r.settle(found)
	return r.withStage(r.withTables(found)), fired
}

// decide runs every family of rules over the targets of one sentence.
func (r *reading) decide(index int, s *sentence, f *focus) (found []*finding, fired []firing) {
	for _, t := range s.targets {
		if t.broken || s.clauses[t.clause].has.meets(r.roles.Subitaneous) {
			continue
		}
		done := map[string]bool{}
		for _, c := range r.set.byTarget[t.class] {
			family := c.family()
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
func (r *reading) fits(index int, s *sentence, t *target, c *compiled) bool {
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

func (r *reading) holds(index int, s *sentence, t *target, c *test) bool {
	switch c.Op {
	case opIn:
		return r.inScope(index, s, t, c)
	case opBefore:
		return s.within(t, c.refs, c.Words, 0)
	case opAfter:
		return s.within(t, c.refs, 0, c.Words)
	case opNear:
		return s.within(t, c.refs, c.Words, c.Words)
	case opHere:
		return s.overlaps(t, c.refs)
	case opNearest:
		g := s.nearest(t, c.among)
		return g != nil && c.refs.has(g.class)
	case opValue:
		return compare(t, c.Cmp, c.Number)
	case opBears:
		b, _ := r.outcome(s, t)
		for _, want := range c.Refs {
			if want == string(b) || want == "unsaid" && b == unsaid {
				return true
			}
		}
	case opSeveral:
		return t.siblings > 1
	case opLevel:
		return r.isLevel(index, s, t, evidence.Factor(c.Refs[0]))
	case opBeside:
		return slices.ContainsFunc(s.targets, func(o *target) bool {
			return o.q != nil && o.q != t.q && o.clause == t.clause && r.isLevel(index, s, o, evidence.Factor(c.Refs[0]))
		})
	case opFollows:
		return r.follows(s, t, evidence.Factor(c.Refs[0]))
	}
	return false
}

// isLevel reports whether a sentence shortly before gave this very value to
// the factor.
func (r *reading) isLevel(index int, s *sentence, t *target, factor evidence.Factor) bool {
	for i := len(r.recent) - 1; i >= 0; i-- {
		f := r.recent[i]
		if index-f.index > reach || f.s.region != s.region {
			return false
		}
		if f.factor == factor && f.s != s && quantity.Same(f.low, t.low) && quantity.Same(f.high, t.high) {
			return true
		}
	}
	return false
}

// follows reports whether the quantity of the same kind before the target in
// its sentence was claimed for the factor, and the target's clause has no
// head of its own beside shares and outcomes.
func (r *reading) follows(s *sentence, t *target, factor evidence.Factor) bool {
	for i := len(r.recent) - 1; i >= 0 && r.recent[i].s == s; i-- {
		f := r.recent[i]
		if f.t.class != t.class || f.t.q == t.q {
			continue
		}
		if factor == "none" {
			c := s.clauses[t.clause]
			return f.rule.Silent && s.clauses[f.t.clause].has.meets(r.roles.Life) && !c.has.meets(r.roles.Hatch) &&
				(f.t.clause == t.clause || !c.has.meets(r.roles.Topic))
		}
		return f.factor == factor && (t.from-f.t.to <= 1 || f.t.clause < t.clause && !s.clauses[t.clause].has.meets(r.roles.Treat) ||
			f.t.clause == t.clause && (t.kind == "temperature" && r.stepBack(s, t.from, r.roles.Prep) != t.from || s.words[t.from].Before&lexicon.AfterComma != 0))
	}
	return false
}

func (r *reading) inScope(index int, s *sentence, t *target, c *test) bool {
	switch c.Scope {
	case "clause":
		return s.elsewhere(t, c.refs, s.clauses[t.clause].from, s.clauses[t.clause].to)
	case "sentence":
		return s.elsewhere(t, c.refs, 0, len(s.words))
	case "previous":
		return r.neighbour(index, -1).meets(c.refs)
	case "next":
		return r.neighbour(index, 1).meets(c.refs)
	case "around":
		return s.has.meets(c.refs) || r.neighbour(index, -1).meets(c.refs) || r.neighbour(index, 1).meets(c.refs)
	case "about":
		return s.has.meets(c.refs) || r.neighbour(index, -1).meets(c.refs) || r.neighbour(index, 1).meets(c.refs) || r.neighbour(index, -2).meets(c.refs) ||
			r.title.meets(c.refs) || s.head.meets(c.refs)
	case "block":
		if s.has.meets(c.refs) {
			return true
		}
		for d := 1; d <= reach; d++ {
			if r.neighbour(index, -d).meets(c.refs) || r.neighbour(index, d).meets(c.refs) {
				return true
			}
		}
	case "title":
		return r.title.meets(c.refs) || s.head.meets(c.refs)
	}
	return false
}

// reach is how many sentences each way count as the same block of text.
const reach = 4

// neighbour returns the classes of the sentence d further on in the region.
func (r *reading) neighbour(index, d int) bits {
	k := index + d
	if k < 0 || k >= len(r.sentences) || r.sentences[k].region != r.sentences[index].region {
		return bits{}
	}
	return r.sentences[k].has
}

// elsewhere reports whether a cue other than the target begins at [from, to).
func (s *sentence) elsewhere(t *target, b bits, from, to int) bool {
	for _, g := range s.tags {
		if g.from >= from && g.from < to && b.has(g.class) && !(g.class == t.class && g.from == t.from) {
			return true
		}
	}
	return false
}

// within reports whether a cue ends at most before words ahead of the target
// or begins at most after words behind it.
func (s *sentence) within(t *target, b bits, before, after int) bool {
	for _, g := range s.tags {
		if !b.has(g.class) {
			continue
		}
		if d := t.from - g.to; before > 0 && d >= 0 && d < before && !s.semicolon(g.to, t.from) {
			return true
		}
		if d := g.from - t.to; after > 0 && d >= 0 && d < after && !s.semicolon(t.to, g.from) {
			return true
		}
	}
	return false
}

// semicolon reports whether one stands before one of the words [from, to].
func (s *sentence) semicolon(from, to int) bool {
	for i := from; i <= to && i < len(s.words); i++ {
		if s.words[i].Before&(lexicon.AfterStrong|lexicon.AfterColon|lexicon.AfterDash) == lexicon.AfterStrong {
			return true
		}
	}
	return false
}

func (s *sentence) overlaps(t *target, b bits) bool {
	for _, g := range s.tags {
		if b.has(g.class) && g.from < t.to && t.from < g.to && g.class != t.class {
			return true
		}
	}
	return false
}

// nearest returns the cue of the classes nearest to the target. What stands
// behind the target is a little further than what stands as far before it, and
// commas, brackets and clause limits add to the distance.
func (s *sentence) nearest(t *target, b bits) *tag {
	const behind, comma, bracket, limit = 2, 2, 2, 8
	var best *tag
	least := 1 << 30
	for i := range s.tags {
		g := &s.tags[i]
		if !b.has(g.class) || g.class == t.class && g.from == t.from {
			continue
		}
		d, lo, hi := 0, 0, 0
		switch {
		case g.to <= t.from:
			lo, hi = g.to, t.from
			d = hi - lo
		case g.from >= t.to:
			lo, hi = t.to, g.from
			d = hi - lo + behind
		default:
			return g
		}
		for i := lo; i <= hi && i < len(s.words); i++ {
			if w := s.words[i].Before; w&lexicon.AfterComma != 0 {
				d += comma
			} else if w&(lexicon.AfterOpen|lexicon.AfterClose) != 0 {
				d += bracket
			}
		}
		k := s.clauseAt(g.from) - t.clause
		d += limit * max(k, -k)
		if d < least {
			best, least = g, d
		}
	}
	return best
}

func compare(t *target, cmp string, v float64) bool {
	if t.low == nil && t.high == nil {
		return false
	}
	for _, x := range []*float64{t.low, t.high} {
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
func (r *reading) ownCategory(t *target) string {
	if t.q != nil {
		return t.q.Regime()
	}
	return triggerOf[r.className(t.class)]
}

// conclude turns a rule that fits into a finding; nil where the rule claims
// nothing after all.
func (r *reading) conclude(index int, s *sentence, t *target, c *compiled) *finding {
	if s.caption && t.q == nil && s.clauses[t.clause].bears == unsaid && c.Claim.Bearing != "outcome" {
		return nil // names what a figure shows
	}
	f := &finding{s: s, index: index, t: t, rule: c, factor: c.Claim.Factor, category: c.Claim.Category, low: t.low, high: t.high}
	said := c.Claim.Bearing
	if said == "outcome" {
		b, borrowed := r.outcome(s, t)
		if said = string(b); b == unsaid {
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

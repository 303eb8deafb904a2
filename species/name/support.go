package name

import (
	"maps"
	"strings"
)

// A shape becomes a name when the support for it reaches enough. The weights
// are our own judgement, no source: one sign that ordinary prose cannot give
// (an authorship, a shortened genus before the same epithet, "sp.") suffices;
// signs that prose can give by chance have to come together.
const enough = 3

// support is what a paper says in support of one genus with one epithet, or
// of one genus alone.
type support struct {
	times  int  // how often the shape stands in the paper
	within int  // of these, not at the start of a sentence
	beside int  // best word beside it, see besides
	titled bool // in the title
	author bool
	openly bool // "Genus sp."
	boxed  bool // alone in brackets
	held   bool // between a preposition and a comma or stop, where no verb or adjective stands
}

// ledger gathers support over all texts of a paper.
type ledger struct {
	pairs  map[string]*support // "Genus epithet"
	genera map[string]*support
	short  map[string]bool // "B epithet" and "B" by initial letters
	lower  map[string]int  // words in small letters
	named  map[string]int  // epithets used in shapes
	german int             // articles and conjunctions met, by language family
	roman  int
	other  int
}

func newLedger() *ledger {
	return &ledger{pairs: map[string]*support{}, genera: map[string]*support{}, short: map[string]bool{}, lower: map[string]int{}, named: map[string]int{}}
}

// clone returns a copy that can be read on into.
func (l *ledger) clone() *ledger {
	c := *l
	c.pairs, c.genera = cloneSupport(l.pairs), cloneSupport(l.genera)
	c.short, c.lower, c.named = maps.Clone(l.short), maps.Clone(l.lower), maps.Clone(l.named)
	return &c
}

func cloneSupport(m map[string]*support) map[string]*support {
	out := make(map[string]*support, len(m))
	for key, s := range m {
		copied := *s
		out[key] = &copied
	}
	return out
}

func entry(m map[string]*support, key string) *support {
	if m[key] == nil {
		m[key] = &support{}
	}
	return m[key]
}

func (l *ledger) read(r reader, title bool) {
	for i := 0; i < len(r.words); i++ {
		w := r.words[i]
		if w.kind == letters && isLower(w.text) {
			l.lower[w.text]++
			l.tongue(w.text)
		}
		if s, ok := r.shapeAt(i); ok {
			l.count(r, s, title)
		}
	}
}

func (l *ledger) tongue(w string) {
	switch w {
	case "der", "die", "und", "das", "nicht", "den", "mit", "bei":
		l.german++
	case "la", "el", "los", "les", "il", "che", "du", "et", "y", "os", "dos", "da", "do", "di", "del", "della", "que", "une", "una", "um", "uma":
		l.roman++
	case "the", "of", "and", "was", "were", "with", "to":
		l.other++
	}
}

func (l *ledger) count(r reader, s shape, title bool) {
	if s.Abbreviated {
		if s.Epithet != "" {
			l.short[s.Genus[:1]+" "+s.Epithet] = true
			l.short[s.Genus[:1]] = l.short[s.Genus[:1]] || epithetForm(s.Epithet) != foreign && !r.cat.ordinary[s.Epithet]
			l.named[s.Epithet]++
		}
		return
	}
	if _, listed := r.cat.genera[s.Genus]; !listed && (s.shouted || s.titled) {
		return // "Santa Marta" and "MATERIALS AND" say nothing
	}
	beside := besides(r, s)
	g := entry(l.genera, s.Genus)
	note(g, s, beside, title)
	if s.Open == "sp." || s.Open == "spp." {
		g.openly = true
	}
	if s.Epithet == "" {
		return
	}
	p := entry(l.pairs, s.Genus+" "+s.Epithet)
	note(p, s, beside, title)
	p.author = p.author || s.Author != ""
	p.held = p.held || beside > 0 && (r.is(s.next, ",") || r.is(s.next, ".") || r.is(s.next, ";"))
	p.boxed = p.boxed || r.at(s.first-1).text == "(" && (r.is(s.next, ")") || r.is(s.next, ","))
	if !s.shouted && !s.titled {
		l.named[s.Epithet]++
	}
}

func note(p *support, s shape, beside int, title bool) {
	p.times++
	if !s.opens {
		p.within++
	}
	p.beside = max(p.beside, beside)
	p.titled = p.titled || title
}

// besides weighs the words before a shape: 3 for "genus", "fairy shrimp" and
// the like, 2 for "eggs of" and "two species,", 1 for a preposition alone.
func besides(r reader, s shape) int {
	if s.opens {
		return 0
	}
	before := strings.ToLower(r.at(s.first - 1).text)
	switch {
	case r.cat.context["apposition"][before]:
		return 3
	case before == "," && r.cat.context["apposition"][strings.ToLower(r.at(s.first-2).text)]:
		return 2 // "two species, "
	case r.cat.context["preposition"][before] && r.cat.context["bearer"][strings.ToLower(r.at(s.first-2).text)]:
		return 2
	case r.cat.context["preposition"][before]:
		return 1
	}
	return 0
}

// binomial weighs a pair whose genus the catalogue does not hold.
func (l *ledger) binomial(genus, epithet string, c *catalogue) bool {
	if c.ordinary[epithet] || c.ordinary[strings.ToLower(genus)] || genusForm(genus) == foreign || c.groups[strings.ToLower(genus)] != "" {
		return false
	}
	p := l.pairs[genus+" "+epithet]
	if p == nil {
		return false
	}
	n := int(epithetForm(epithet)-plausible) + int(genusForm(genus)-plausible) + p.beside
	n += min(p.times-1, 2)
	for _, sign := range []struct {
		holds  bool
		weight int
	}{
		{p.within > 0 && !l.isGerman(), 1},
		{p.titled, 1},
		{p.titled && p.times > 1 && !l.isRomance(), 1},
		{epithetForm(epithet) == plausible && endsIn(epithet, feminineEpithets, 2) && !l.isRomance(), 1},
		{p.author, 3},
		{p.boxed, 2},
		{l.short[genus[:1]+" "+epithet], 3},
		{l.short[genus[:1]], 1},
		{l.genera[genus].openly, 3},
		{l.lower[strings.ToLower(genus)] > 0, -3},
		{l.everyday(epithet), -2},
	} {
		if sign.holds {
			n += sign.weight
		}
	}
	if l.isRomance() && epithetForm(epithet) == plausible && !p.author && !p.boxed && !l.short[genus[:1]+" "+epithet] {
		n-- // nouns and adjectives of these languages share the endings
	}
	return n >= enough
}

// alone weighs a genus that never stands with an epithet.
func (l *ledger) alone(genus string, c *catalogue) bool {
	g := l.genera[genus]
	if c.ordinary[strings.ToLower(genus)] || genusForm(genus) == foreign || l.lower[strings.ToLower(genus)] > 0 || c.groups[strings.ToLower(genus)] != "" {
		return false
	}
	return g.openly || g.beside == 3 && genusForm(genus) == telling
}

func (l *ledger) isGerman() bool  { return l.german > l.other && l.german > l.roman }
func (l *ledger) isRomance() bool { return l.roman > l.other && l.roman > l.german }

// everyday reports whether the paper uses an epithet more often as a word of
// its prose than in names; a few uses without the genus are usual.
func (l *ledger) everyday(epithet string) bool {
	return l.lower[epithet] > 2*l.named[epithet]
}

package name

import (
	"slices"
	"strings"
)

// Scope knows the names of one paper: what its title and pages say in support
// of a name anywhere in it. It is read-only once made and safe for use by
// several goroutines.
type Scope struct {
	ledger   *ledger
	genera   map[string]bool     // known in this paper, by catalogue or by support
	pairs    map[string]bool     // "Genus epithet"
	epithets map[string][]string // epithet → known genera, sorted
	initials map[string][]string // first letter → known genera of the paper, most frequent first
	title    []Name
	paper    *paper
}

// paper is what a Scope read: the pages, whatever their title.
type paper struct {
	ledger *ledger
	pages  map[string]reader // by their text; none of a book
}

// keptPages is how many pages a paper has whose words are kept for [Scope.Find];
// those of a book would take tens of megabytes.
const keptPages = 64

// NewScope reads a paper: its title and the texts of its pages.
func NewScope(title string, pages ...string) *Scope {
	p := &paper{ledger: newLedger(), pages: map[string]reader{}}
	for _, text := range pages {
		r := newReader(text)
		p.ledger.read(r, false)
		if len(pages) <= keptPages {
			p.pages[text] = r
		}
	}
	return p.under(title)
}

// Under returns the scope of the same pages under another title.
func (s *Scope) Under(title string) *Scope { return s.paper.under(title) }

func (p *paper) under(title string) *Scope {
	s := &Scope{ledger: p.ledger.clone(), genera: map[string]bool{}, pairs: map[string]bool{}, epithets: map[string][]string{}, initials: map[string][]string{}, paper: p}
	s.ledger.read(newReader(title), true)
	s.settle(known())
	s.title = s.Find(title)
	return s
}

// settle decides which genera and pairs the paper knows.
func (s *Scope) settle(c *catalogue) {
	for g := range s.ledger.genera {
		if _, listed := c.genera[g]; listed || s.ledger.alone(g, c) {
			s.genera[g] = true
		}
	}
	for p := range s.ledger.pairs {
		g, e, _ := strings.Cut(p, " ")
		if _, listed := c.genera[g]; !listed && s.ledger.binomial(g, e, c) {
			s.genera[g], s.pairs[p] = true, true
		}
	}
	for p := range s.ledger.pairs {
		if g, e, _ := strings.Cut(p, " "); s.genera[g] && s.epithetOf(g, e, c) {
			s.pairs[p] = true
			s.epithets[e] = append(s.epithets[e], g)
		}
	}
	for _, gs := range s.epithets {
		slices.Sort(gs)
	}
	for g := range s.genera {
		s.initials[g[:1]] = append(s.initials[g[:1]], g)
	}
	for _, gs := range s.initials {
		slices.SortFunc(gs, func(a, b string) int {
			if d := s.ledger.genera[b].times - s.ledger.genera[a].times; d != 0 {
				return d
			}
			return strings.Compare(a, b)
		})
	}
}

// epithetOf reports whether e can be an epithet of the known genus g here: a
// listed one, one with support, or a word of the right form that the paper
// does not use as an ordinary word.
func (s *Scope) epithetOf(g, e string, c *catalogue) bool {
	if c.pairs[g+" "+e] || s.pairs[g+" "+e] {
		return true
	}
	p, l := s.ledger.pairs[g+" "+e], s.ledger
	vouched := p != nil && (p.author || l.short[g[:1]+" "+e])
	if c.ordinary[e] {
		return vouched && epithetForm(e) == telling
	}
	switch epithetForm(e) {
	case telling:
		return true
	case plausible:
		return vouched || !l.everyday(e) && (!l.isRomance() || endsIn(e, personal, 4) || p != nil && (p.times > 1 || p.titled || p.boxed || p.held || p.beside >= 2))
	}
	return false
}

// Title returns the names in the paper's title, in order.
func (s *Scope) Title() []Name { return slices.Clone(s.title) }

// Genera returns the genera known in this paper, sorted.
func (s *Scope) Genera() []string {
	out := make([]string, 0, len(s.genera))
	for g := range s.genera {
		out = append(out, g)
	}
	slices.Sort(out)
	return out
}

// Full returns the name with its genus written out, as [Name.Full] does.
func (s *Scope) Full(n Name) string { return n.Full() }

// Find returns the names in a text of the paper, in order, none overlapping,
// abbreviated genera written out where the paper names them.
func (s *Scope) Find(text string) []Name {
	r, read := s.paper.pages[text]
	if !read {
		r = newReader(text)
	}
	f := finder{reader: r, Scope: s, last: map[string]string{}, recent: -1}
	for i := 0; i < len(f.words); {
		n, next, ok := f.nameAt(i)
		if !ok {
			i++
			continue
		}
		f.out = append(f.out, n)
		f.remember(n, next)
		i = next
	}
	return f.out
}

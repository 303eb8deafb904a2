package rule

import (
	"hatchlore/species/name"
)

// groupNames joins names that are listed together: parted by nothing but a
// comma, "and" or a bracket.
func groupNames(text string, ws []word, names []name.Name, aside func(word int) bool) []*group_ {
	var out []*group_
	at := func(b int) int {
		for i, w := range ws {
			if w.end > b {
				return i
			}
		}
		return len(ws)
	}
	for _, n := range names {
		if n.Rank == name.Group {
			continue
		}
		from, to := at(n.Start), at(n.AuthorEnd)
		if to < from {
			to = from
		}
		if to < len(ws) && ws[to].start < n.End {
			to++
		}
		if len(out) > 0 {
			last := out[len(out)-1]
			if listed(text[last.end:n.Start]) {
				last.names, last.end, last.to = append(last.names, n), n.End, to
				continue
			}
		}
		g := &group_{span: span{n.Start, n.End}, from: from, to: to, names: []name.Name{n}}
		g.aside = aside != nil && aside(from)
		out = append(out, g)
	}
	return out
}

// listed reports whether what stands between two names only joins them.
func listed(between string) bool {
	if len(between) > 40 {
		return false
	}
	n := 0
	for _, w := range words(between, 0, len(between)) {
		switch w.fold {
		case "and", "or", "und", "oder", "et", "ou", "y", "e", "o", "u", "ed", "i", "of", "von", "de", "di":
		default:
			return false
		}
		n++
	}
	for _, r := range between {
		if r == '.' || r == ';' || r == ':' || r == '(' || r == ')' {
			return false
		}
	}
	return n <= 2
}

// isAside returns a test for a word that a cue of the classes stands right
// before, or two words before.
func (s *sentence) isAside(beside bits) func(int) bool {
	return func(word int) bool {
		for _, g := range s.tags {
			if beside.has(g.class) && g.to <= word && word-g.to <= 1 {
				return true
			}
		}
		return false
	}
}

// focus is what a text is about at some point.
type focus struct {
	group  *group_
	topic  bool // eggs were spoken of
	region int
}

// subject is whom a claim is about.
type subject struct {
	names   []name.Name
	certain float64 // factor of the score
}

// subjects decides which names the target's claim is about.
func (r *reading) subjects(s *sentence, t *target, f *focus) subject {
	if n, ok := r.paired(s, t); ok {
		return subject{[]name.Name{n}, 1}
	}
	if g := r.referred(s, t, f); len(g) > 0 {
		return subject{g, 0.97}
	}
	c := s.clauses[t.clause]
	if g := nearestGroup(s, t.at, c.from, c.to); g != nil {
		return subject{g.names, 1}
	}
	if g := nearestGroup(s, t.at, 0, len(s.words)); g != nil {
		return subject{g.names, 0.98}
	}
	if g := r.fallback(f); g != nil {
		return subject{g.names, 0.96}
	}
	if g := r.only(s); g != nil {
		return subject{g.names, 0.9}
	}
	return subject{nil, 0.93}
}

// paired finds the name that "respectively" gives to the target.
func (r *reading) paired(s *sentence, t *target) (name.Name, bool) {
	if !s.has.meets(r.set.roles.respectively) || t.q == nil {
		return name.Name{}, false
	}
	index, count := t.item, t.siblings
	if count == 1 {
		index, count = r.series(s, t)
	}
	if count < 2 {
		return name.Name{}, false
	}
	for i := len(s.names) - 1; i >= 0; i-- {
		if g := s.names[i]; len(g.names) == count {
			return g.names[index], true
		}
	}
	return name.Name{}, false
}

// series counts single quantities of the target's kind in its clause, as in
// "on day 9 and day 4, respectively".
func (r *reading) series(s *sentence, t *target) (index, count int) {
	for _, o := range s.targets {
		if o.class != t.class || o.q == nil || o.clause != t.clause {
			continue
		}
		if o == t {
			index = count
		}
		count++
	}
	return index, count
}

// referred resolves "the former", "the latter", "both" and "each of the
// three" to names of this sentence or of the focus.
func (r *reading) referred(s *sentence, t *target, f *focus) []name.Name {
	ro := r.set.roles
	c := s.clauses[t.clause]
	list := func(min int) []name.Name {
		for i := len(s.names) - 1; i >= 0; i-- {
			if len(s.names[i].names) >= min && s.names[i].from < t.at {
				return s.names[i].names
			}
		}
		if f.group != nil && len(f.group.names) >= min {
			return f.group.names
		}
		return nil
	}
	switch {
	case c.has.meets(ro.latter):
		if l := list(2); l != nil {
			return l[len(l)-1:]
		}
	case c.has.meets(ro.former):
		if l := list(2); l != nil {
			return l[:1]
		}
	case c.has.meets(ro.both):
		return list(2)
	}
	return nil
}

// nearestGroup returns the list of names nearest to word at among those that
// begin at words [from, to): before it rather than behind it, a bystander
// only when there is nobody else.
func nearestGroup(s *sentence, at, from, to int) *group_ {
	var best *group_
	cost := func(g *group_) int {
		d := at - g.to
		if g.from >= at {
			d = g.from - at + 4
		}
		if g.aside {
			d += 1000
		}
		return d
	}
	for _, g := range s.names {
		if g.from < from || g.from >= to || g.aside {
			continue
		}
		if best == nil || cost(g) < cost(best) {
			best = g
		}
	}
	return best
}

// fallback is the focus, narrowed by the title where both name names.
func (r *reading) fallback(f *focus) *group_ {
	if len(r.titled) == 0 {
		return f.group
	}
	title := &group_{}
	for _, g := range r.titled {
		title.names = append(title.names, g.names...)
	}
	if f.group == nil {
		return title
	}
	var shared []name.Name
	for _, n := range f.group.names {
		for _, m := range title.names {
			if n.Full() == m.Full() {
				shared = append(shared, n)
			} else if n.Genus == m.Genus && n.Rank == name.Genus {
				shared = append(shared, m)
			}
		}
	}
	switch {
	case len(shared) > 0:
		return &group_{names: shared}
	case f.topic:
		return f.group
	}
	return title
}

// only returns the sole name of the sentence's region, where it has one.
func (r *reading) only(s *sentence) *group_ {
	var g *group_
	for _, o := range r.sentences {
		if o.region != s.region {
			continue
		}
		for _, n := range o.names {
			if g != nil && (len(n.names) != 1 || n.names[0].Full() != g.names[0].Full()) {
				return nil
			}
			g = n
		}
	}
	if g == nil || len(g.names) != 1 {
		return nil
	}
	return g
}

// follow moves the focus past s.
func (r *reading) follow(f *focus, s *sentence) {
	for _, g := range s.names {
		if g.aside {
			continue
		}
		f.group, f.topic = g, s.has.meets(r.set.roles.topic)
		return
	}
}

// written returns the names as claims show them: a genus alone gives way to
// its species where the title has just one of that genus.
func (r *reading) written(n name.Name) string {
	full := n.Full()
	if n.Rank != name.Genus {
		return full
	}
	found := ""
	for _, g := range r.titled {
		for _, m := range g.names {
			if m.Rank == name.Species && m.Genus == n.Genus {
				if found != "" && found != m.Full() {
					return full
				}
				found = m.Full()
			}
		}
	}
	if found != "" {
		return found
	}
	return full
}

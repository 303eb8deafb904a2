package rule

import (
	"slices"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/marked"
	"hatchlore/species/name"
)

// focus is what a text is about at some point.
type focus struct {
	group  *marked.NameList
	all    []name.Name // of the last sentence that named two or more
	topic  bool        // eggs were spoken of
	region int
}

// focusIn is the focus at the start of a region.
func (r *reading) focusIn(region int) focus {
	g := r.Headed[region]
	return focus{group: g, topic: g != nil, region: region}
}

// subject is whom a claim is about.
type subject struct {
	names   []name.Name
	certain float64 // factor of the score
}

// subjects decides which names the target's claim is about: names paired by
// "respectively", names referred to, a list of names that shares the target,
// then the nearest name that speaks for the clause, the sentence so far, the
// focus, and last what follows.
func (r *reading) subjects(s *marked.Sentence, t *marked.Target, f *focus) subject {
	if n, ok := r.paired(s, t, f); ok {
		return subject{[]name.Name{n}, 1}
	}
	if g := r.referred(s, t, f); len(g) > 0 {
		return subject{g, 0.97}
	}
	if g := r.shared(s, t); len(g) > 0 {
		return subject{g, 0.97}
	}
	c := s.Clauses[t.Clause]
	if g := r.bound(s, t, c); g != nil {
		return subject{g.Names, 1}
	}
	if g := lastGroup(s, t.At, c.From); g != nil {
		return subject{g.Names, 1}
	}
	if g := lastGroup(s, t.At, 0); g != nil {
		return subject{parallel(s, g), 0.98}
	}
	if g := r.resumed(s, f); g != nil {
		return subject{g.Names, 0.93}
	}
	if g := r.ofSource(s, t, f); g != nil {
		f.group = &marked.NameList{Names: g} // what follows without a name goes on about it
		return subject{g, 0.93}
	}
	if g := r.fallback(f); g != nil {
		if later := firstGroup(s, t.At); later != nil && narrows(later, g) {
			return subject{later.Names, 0.93}
		}
		return subject{g.Names, 0.93}
	}
	if s.Grouped {
		return subject{nil, 0.95}
	}
	if g := firstGroup(s, t.At); g != nil {
		return subject{parallel(s, g), 0.92}
	}
	if g := r.only(s); g != nil {
		return subject{g.Names, 0.9}
	}
	return subject{nil, 0.93}
}

// everyone returns the several animals that the sentence before told apart, for
// a condition told of no one by name right behind it: "... in A. una and in B.
// altera. The water had 20 °C".
func (r *reading) everyone(fd *finding, f *focus) []name.Name {
	before := r.At(fd.index-1, fd.s.Region)
	one := r.Roles.Heir
	one.Join(r.Roles.Former)
	one.Join(r.Roles.Latter)
	if !fd.context || len(fd.s.Names) > 0 || len(r.Titled) > 0 || len(f.all) < 2 || before == nil || len(before.Names) < 2 || before.Grouped ||
		slices.ContainsFunc(fd.s.Tags, func(g marked.Tag) bool { return one.Has(g.Class) && g.From < fd.t.From }) {
		return nil
	}
	return f.all
}

// narrows reports whether g names species of the one genus that wide names:
// "Triops" in the title, "the eggs of Triops longicaudatus" behind the target.
func narrows(g, wide *marked.NameList) bool {
	if len(wide.Names) != 1 || wide.Names[0].Epithet != "" {
		return false
	}
	return !slices.ContainsFunc(g.Names, func(n name.Name) bool { return n.Genus != wide.Names[0].Genus || n.Epithet == "" })
}

// parallel returns g's names and those of the other lists in its clause: what
// a later clause says without a name holds for all of them.
func parallel(s *marked.Sentence, g *marked.NameList) (out []name.Name) {
	for _, o := range s.Names {
		if !o.Aside && s.ClauseAt(o.From) == s.ClauseAt(g.From) {
			out = append(out, o.Names...)
		}
	}
	return out
}

// bound returns the names behind the target that its clause is plainly about:
// right behind it, or as the owner of eggs or of a hatch ("eggs of NAME").
func (r *reading) bound(s *marked.Sentence, t *marked.Target, c marked.Clause) *marked.NameList {
	const close = 4
	for _, g := range s.Names {
		if g.From < t.To || g.From >= c.To || g.Aside {
			continue
		}
		if g.From-t.To < close && !r.valueBetween(s, t.To, g.From) && !r.parted(s, t.To, g.From) || r.owns(s, g) && !r.namedBefore(s, t, c) {
			return g
		}
		return nil
	}
	return nil
}

// parted reports whether a comma or conjunction stands before one of the words
// [from, to], unless a preposition ties the last of them to what precedes.
func (r *reading) parted(s *marked.Sentence, from, to int) bool {
	if s.StepBack(to, r.Roles.Prep) != to {
		return false
	}
	for i := from; i <= to && i < len(s.Words); i++ {
		if s.Words[i].Before&lexicon.AfterComma != 0 || s.Tagged(i, r.Roles.Coord) {
			return true
		}
	}
	return false
}

func (r *reading) namedBefore(s *marked.Sentence, t *marked.Target, c marked.Clause) bool {
	return lastGroup(s, t.At, c.From) != nil
}

// owns reports whether the name stands behind "eggs of" or the like.
func (r *reading) owns(s *marked.Sentence, g *marked.NameList) bool {
	for _, o := range s.Tags {
		if (r.Roles.Egg.Has(o.Class) || r.Roles.Hatch.Has(o.Class)) && o.From < g.From && g.From-o.From <= 4 {
			return true
		}
	}
	return false
}

func (r *reading) valueBetween(s *marked.Sentence, from, to int) bool {
	for _, t := range s.Targets {
		if t.Q != nil && t.From >= from && t.From < to {
			return true
		}
	}
	return false
}

// shared returns all names behind the target when each has a value of another
// kind of its own: the target's value holds for them all, as the percentage
// in "80 % after 10 weeks in A. una and after 11 weeks in A. altera".
func (r *reading) shared(s *marked.Sentence, t *marked.Target) (out []name.Name) {
	if t.Q == nil || len(s.Names) < 2 || s.Names[0].From < t.To {
		return nil
	}
	last := t.To
	for i, g := range s.Names {
		own := false
		for _, o := range s.Targets {
			if o.Q == nil || o.From < last {
				continue
			}
			if o.Class == t.Class {
				return nil
			}
			limit := len(s.Words)
			if i+1 < len(s.Names) {
				limit = s.Names[i+1].From
			}
			own = own || o.From < limit
		}
		if !own || g.Aside {
			return nil
		}
		last = g.To
		out = append(out, g.Names...)
	}
	return out
}

// paired finds the name that "respectively" gives to the target, in this
// sentence or, where it has no names, among those listed last.
func (r *reading) paired(s *marked.Sentence, t *marked.Target, f *focus) (name.Name, bool) {
	if !s.Has.Meets(r.Roles.Respectively) || t.Q == nil {
		return name.Name{}, false
	}
	index, count := t.Item, t.Siblings
	if count == 1 {
		index, count = r.series(s, t)
	}
	if count < 2 {
		return name.Name{}, false
	}
	for i := len(s.Names) - 1; i >= 0; i-- {
		if g := s.Names[i]; len(g.Names) == count {
			return g.Names[index], true
		}
	}
	if len(s.Names) == 0 && len(f.all) == count {
		return f.all[index], true
	}
	return name.Name{}, false
}

// series counts single quantities of the target's kind in its clause, as in
// "on day 9 and day 4, respectively".
func (r *reading) series(s *marked.Sentence, t *marked.Target) (index, count int) {
	for _, o := range s.Targets {
		if o.Class != t.Class || o.Q == nil || o.Clause != t.Clause {
			continue
		}
		if o == t {
			index = count
		}
		count++
	}
	return index, count
}

// referred resolves "the former", "the latter" and "both species", read last
// before the target, to names of this sentence or of the focus.
func (r *reading) referred(s *marked.Sentence, t *marked.Target, f *focus) []name.Name {
	ro := r.Roles
	word := referring(s, t, ro.Former, ro.Latter, ro.Both)
	if word == nil || lastGroup(s, t.At, word.To) != nil {
		return nil
	}
	var list []name.Name
	for _, g := range s.Names {
		if g.From < word.From && !g.Aside {
			list = append(list, g.Names...)
		}
	}
	if len(list) < 2 && f.group != nil {
		list = f.group.Names
	}
	if len(list) < 2 {
		list = f.all
	}
	switch {
	case len(list) < 2:
		return nil
	case ro.Latter.Has(word.Class):
		return list[len(list)-1:]
	case ro.Former.Has(word.Class):
		return list[:1]
	}
	return list
}

// referring returns the cue of the classes read last before the target, or, where
// none is, the last in its clause.
func referring(s *marked.Sentence, t *marked.Target, classes ...marked.Bits) (word *marked.Tag) {
	for i := range s.Tags {
		g := &s.Tags[i]
		switch {
		case !slices.ContainsFunc(classes, func(b marked.Bits) bool { return b.Has(g.Class) }):
		case g.From < t.At, s.ClauseAt(g.From) == t.Clause && (word == nil || word.From >= t.At):
			word = g
		}
	}
	return word
}

// lastGroup returns the names that stand last at words [from, at), bystanders
// left out.
func lastGroup(s *marked.Sentence, at, from int) *marked.NameList {
	for i := len(s.Names) - 1; i >= 0; i-- {
		if g := s.Names[i]; g.From >= from && g.From < at && !g.Aside {
			return g
		}
	}
	return nil
}

// firstGroup returns the names that stand first behind word at.
func firstGroup(s *marked.Sentence, at int) *marked.NameList {
	for _, g := range s.Names {
		if g.From >= at && !g.Aside {
			return g
		}
	}
	return nil
}

// lead is whom a text names first, and in which region: where the title names
// nobody, later parts of the text are about the same animal until they name
// another.
type lead struct {
	group  *marked.NameList
	region int
}

func (r *reading) firstNamed() lead {
	for _, s := range r.Sentences {
		for _, g := range s.Names {
			if !g.Aside {
				return lead{g, s.Region}
			}
		}
	}
	return lead{}
}

// resumed is the focus where s goes on from a sentence shortly before that named
// it, with a pronoun among its first words: "The clay-pan shrimp, Q. pallidipes,
// is another story. Its mud must be dry."
func (r *reading) resumed(s *marked.Sentence, f *focus) *marked.NameList {
	const opening, back = 4, 2
	if f.group == nil || !slices.ContainsFunc(s.Tags, func(g marked.Tag) bool { return g.From < opening && r.Roles.Heir.Has(g.Class) }) {
		return nil
	}
	for d := 1; d <= back; d++ {
		if o := r.At(s.Index-d, s.Region); o != nil && slices.Contains(o.Names, f.group) {
			return f.group
		}
	}
	return nil
}

// ofSource returns the one species of a cited paper's title, where the text says
// nothing else of whom it speaks and has several in view.
func (r *reading) ofSource(s *marked.Sentence, t *marked.Target, f *focus) []name.Name {
	all := r.fallback(f)
	if all == nil || len(all.Names) < 2 {
		return nil
	}
	c, ok := r.citedFor(s, t)
	if !ok {
		return nil
	}
	found := r.Entitled(s.Page.Text[c.Start:c.End])
	if len(found) != 1 {
		return nil
	}
	for _, n := range all.Names {
		if n.Full() == found[0].Full() {
			return []name.Name{n}
		}
	}
	return nil
}

// fallback is the focus, narrowed by the title where both name names.
func (r *reading) fallback(f *focus) *marked.NameList {
	switch {
	case len(r.Titled) == 0 && f.group == nil && r.lead.region < f.region:
		return r.lead.group
	case len(r.Titled) == 0:
		return f.group
	}
	title := &marked.NameList{}
	for _, g := range r.Titled {
		title.Names = append(title.Names, g.Names...)
	}
	if f.group == nil {
		return title
	}
	var shared []name.Name
	for _, n := range f.group.Names {
		for _, m := range title.Names {
			if n.Full() == m.Full() || n.Genus == m.Genus && m.Rank == name.Genus {
				shared = append(shared, n)
			} else if n.Genus == m.Genus && n.Rank == name.Genus {
				shared = append(shared, m)
			}
		}
	}
	switch {
	case len(shared) > 0:
		return &marked.NameList{Names: shared}
	case f.topic:
		return f.group
	}
	return title
}

// neighbours returns the sentences of the region within twice the reach.
func (r *reading) neighbours(s *marked.Sentence) []*marked.Sentence {
	from, to := s.Index, s.Index
	for from > 0 && s.Index-from < 2*marked.Reach && r.Sentences[from-1].Region == s.Region {
		from--
	}
	for to < len(r.Sentences) && to-s.Index <= 2*marked.Reach && r.Sentences[to].Region == s.Region {
		to++
	}
	return r.Sentences[from:to]
}

// only returns the sole name of the neighbourhood, where it has one.
func (r *reading) only(s *marked.Sentence) *marked.NameList {
	var g *marked.NameList
	for _, o := range r.neighbours(s) {
		for _, n := range o.Names {
			if g != nil && (len(n.Names) != 1 || n.Names[0].Full() != g.Names[0].Full()) {
				return nil
			}
			g = n
		}
	}
	if g == nil || len(g.Names) != 1 {
		return nil
	}
	return g
}

// follow moves the focus past s.
func (r *reading) follow(f *focus, s *marked.Sentence) {
	var all []name.Name
	for _, g := range s.Names {
		if !g.Aside {
			all = append(all, g.Names...)
		}
	}
	if len(all) > 1 {
		f.all = all
	}
	if len(s.Names) == 0 && len(f.all) > 1 && s.Has.Meets(r.Roles.Both) {
		f.group, f.topic = &marked.NameList{Names: f.all}, s.Has.Meets(r.Roles.Topic) // "both were kept moist": what follows is of both
	}
	for _, g := range s.Names {
		if g.Aside {
			continue
		}
		f.group, f.topic = g, s.Has.Meets(r.Roles.Topic)
		return
	}
}

// written returns the names as claims show them: a genus alone gives way to
// its species where the title, or for an everyday word the text around, has
// just one of that genus.
func (r *reading) written(s *marked.Sentence, n name.Name) string {
	full := n.Full()
	if n.Rank != name.Genus {
		return full
	}
	groups := r.Titled
	if n.Common {
		for _, o := range r.neighbours(s) {
			groups = append(groups[:len(groups):len(groups)], o.Names...)
		}
	}
	if found := soleSpecies(groups, n.Genus); found != nil {
		return found[0]
	}
	if sole := r.species[n.Genus]; len(sole) == 1 && len(r.Titled) > 0 && isTitled(r.Titled, n) {
		return sole[0]
	}
	return full
}

// recalled gives a value that is told of nobody by name, in a paper with several
// animals in its title, to the one of them of which it was told before: "our own
// mud gave nauplii after 45 days" is about the animal whose mud was chilled so long.
func (r *reading) recalled(found []*finding) {
	var titled []name.Name
	for _, g := range r.Titled {
		titled = append(titled, g.Names...)
	}
	same := func(a, b name.Name) bool { return a.Full() == b.Full() }
	for i, f := range found {
		if len(titled) < 2 || len(f.s.Names) > 0 || f.low == nil && f.high == nil || f.s.Has.Meets(r.Roles.Both) || !slices.EqualFunc(f.subject.names, titled, same) {
			continue
		}
		var of []string
		for _, g := range found[:i] {
			if g.factor == f.factor && sameValue(f, g) && shareName(f, g) {
				of = append(of, g.names...)
			}
		}
		slices.Sort(of)
		if of = slices.Compact(of); len(of) == 1 {
			f.subject.names = slices.DeleteFunc(slices.Clone(f.subject.names), func(n name.Name) bool { return r.written(f.s, n) != of[0] })
			f.names = of
		}
	}
}

// speciesNamed lists the species of each genus that the sentences name.
func (r *reading) speciesNamed() map[string][]string {
	out := map[string][]string{}
	for _, s := range r.Sentences {
		for _, g := range s.Names {
			for _, n := range g.Names {
				if full := n.Full(); n.Rank == name.Species && !slices.Contains(out[n.Genus], full) {
					out[n.Genus] = append(out[n.Genus], full)
				}
			}
		}
	}
	return out
}

func isTitled(groups []*marked.NameList, n name.Name) bool {
	for _, g := range groups {
		for _, m := range g.Names {
			if m.Rank == name.Genus && m.Genus == n.Genus {
				return true
			}
		}
	}
	return false
}

// soleSpecies returns the one species of the genus among the groups, written
// out; the genus itself where they name two, nil where they name none.
func soleSpecies(groups []*marked.NameList, genus string) []string {
	found := ""
	for _, g := range groups {
		for _, m := range g.Names {
			if m.Rank == name.Species && m.Genus == genus {
				if found != "" && found != m.Full() {
					return []string{genus}
				}
				found = m.Full()
			}
		}
	}
	if found == "" {
		return nil
	}
	return []string{found}
}

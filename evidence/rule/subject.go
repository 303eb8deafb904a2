package rule

import (
	"slices"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/marked"
	"hatchlore/species/name"
)

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
	before := r.Beside(fd.s, -1)
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

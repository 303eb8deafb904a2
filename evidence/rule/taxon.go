package rule

import (
	"slices"
	"strings"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/species/name"
)

// groupNames joins names that are listed together: parted by nothing but a
// comma, "and" or a bracket.
func groupNames(text string, ws []lexicon.Word, names []name.Name, aside func(word int) bool) []*nameList {
	var out []*nameList
	at := func(b int) int {
		for i, w := range ws {
			if w.End > b {
				return i
			}
		}
		return len(ws)
	}
	for _, n := range names {
		if n.Rank == name.Group || everyday(n) {
			continue
		}
		from, to := at(n.Start), at(n.AuthorEnd)
		if to < from {
			to = from
		}
		if to < len(ws) && ws[to].Start < n.End {
			to++
		}
		if len(out) > 0 {
			last := out[len(out)-1]
			if listed(text[last.end:n.Start], names) {
				last.names, last.end, last.to = append(last.names, n), n.End, to
				continue
			}
		}
		g := &nameList{span: span{n.Start, n.End}, from: from, to: to, names: []name.Name{n}}
		g.aside = aside != nil && aside(from)
		out = append(out, g)
	}
	return out
}

// everyday reports whether a name is an everyday word inflected from a genus
// ("artemias", "Daphnien") rather than the genus itself or its customary
// shortening ("nothos"): such a word names no taxon that a claim could be about.
func everyday(n name.Name) bool {
	if !n.Common || n.Rank != name.Genus {
		return false
	}
	printed, genus := lexicon.Fold(n.Printed), lexicon.Fold(n.Genus)
	return printed != genus && strings.HasPrefix(printed, genus[:len(genus)-1])
}

// listed reports whether what stands between two names only joins them; names
// of higher groups may introduce the parts of a list ("; Sididae: ").
func listed(between string, names []name.Name) bool {
	if len(between) > 60 {
		return false
	}
	for _, n := range names {
		if n.Rank == name.Group {
			between = strings.ReplaceAll(between, n.Printed+":", ",")
			between = strings.ReplaceAll(between, n.Printed+" ", "")
		}
	}
	if strings.ContainsAny(between, ".:()") || strings.Contains(between, ";") && strings.Trim(between, "; ,") != "" {
		return false
	}
	ws := lexicon.Words(between, 0, len(between))
	for i, w := range ws {
		if !joining[w.Fold] && !(i > 0 && i == len(ws)-1 && joining[ws[0].Fold]) {
			return false
		}
	}
	return len(ws) <= 4
}

// joining are the words that may stand between the names of a list, beside
// one adjective ("and of the parthenogenetic").
var joining = map[string]bool{"and": true, "or": true, "und": true, "oder": true, "et": true, "ou": true, "y": true, "e": true,
	"o": true, "u": true, "ed": true, "i": true, "of": true, "von": true, "de": true, "di": true, "the": true}

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
	group  *nameList
	all    []name.Name // of the last sentence that named two or more
	topic  bool        // eggs were spoken of
	region int
}

// focusIn is the focus at the start of a region.
func (r *reading) focusIn(region int) focus {
	g := r.headed[region]
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
func (r *reading) subjects(s *sentence, t *target, f *focus) subject {
	if n, ok := r.paired(s, t, f); ok {
		return subject{[]name.Name{n}, 1}
	}
	if g := r.referred(s, t, f); len(g) > 0 {
		return subject{g, 0.97}
	}
	if g := r.shared(s, t); len(g) > 0 {
		return subject{g, 0.97}
	}
	c := s.clauses[t.clause]
	if g := r.bound(s, t, c); g != nil {
		return subject{g.names, 1}
	}
	if g := lastGroup(s, t.at, c.from); g != nil {
		return subject{g.names, 1}
	}
	if g := lastGroup(s, t.at, 0); g != nil {
		return subject{parallel(s, g), 0.98}
	}
	if g := r.resumed(s, f); g != nil {
		return subject{g.names, 0.93}
	}
	if g := r.ofSource(s, t, f); g != nil {
		f.group = &nameList{names: g} // what follows without a name goes on about it
		return subject{g, 0.93}
	}
	if g := r.fallback(f); g != nil {
		if later := firstGroup(s, t.at); later != nil && narrows(later, g) {
			return subject{later.names, 0.93}
		}
		return subject{g.names, 0.93}
	}
	if s.grouped {
		return subject{nil, 0.95}
	}
	if g := firstGroup(s, t.at); g != nil {
		return subject{parallel(s, g), 0.92}
	}
	if g := r.only(s); g != nil {
		return subject{g.names, 0.9}
	}
	return subject{nil, 0.93}
}

// everyone returns the several animals that the sentence before told apart, for
// a condition told of no one by name right behind it: "... in A. una and in B.
// altera. The water had 20 °C".
func (r *reading) everyone(fd *finding, f *focus) []name.Name {
	before := r.at(fd.index-1, fd.s.region)
	one := r.roles.Heir
	one.join(r.roles.Former)
	one.join(r.roles.Latter)
	if !fd.context || len(fd.s.names) > 0 || len(r.titled) > 0 || len(f.all) < 2 || before == nil || len(before.names) < 2 || before.grouped ||
		slices.ContainsFunc(fd.s.tags, func(g tag) bool { return one.has(g.class) && g.from < fd.t.from }) {
		return nil
	}
	return f.all
}

// narrows reports whether g names species of the one genus that wide names:
// "Triops" in the title, "the eggs of Triops longicaudatus" behind the target.
func narrows(g, wide *nameList) bool {
	if len(wide.names) != 1 || wide.names[0].Epithet != "" {
		return false
	}
	return !slices.ContainsFunc(g.names, func(n name.Name) bool { return n.Genus != wide.names[0].Genus || n.Epithet == "" })
}

// parallel returns g's names and those of the other lists in its clause: what
// a later clause says without a name holds for all of them.
func parallel(s *sentence, g *nameList) (out []name.Name) {
	for _, o := range s.names {
		if !o.aside && s.clauseAt(o.from) == s.clauseAt(g.from) {
			out = append(out, o.names...)
		}
	}
	return out
}

// bound returns the names behind the target that its clause is plainly about:
// right behind it, or as the owner of eggs or of a hatch ("eggs of NAME").
func (r *reading) bound(s *sentence, t *target, c clause) *nameList {
	const close = 4
	for _, g := range s.names {
		if g.from < t.to || g.from >= c.to || g.aside {
			continue
		}
		if g.from-t.to < close && !r.valueBetween(s, t.to, g.from) && !r.parted(s, t.to, g.from) || r.owns(s, g) && !r.namedBefore(s, t, c) {
			return g
		}
		return nil
	}
	return nil
}

// parted reports whether a comma or conjunction stands before one of the words
// [from, to], unless a preposition ties the last of them to what precedes.
func (r *reading) parted(s *sentence, from, to int) bool {
	if r.stepBack(s, to, r.roles.Prep) != to {
		return false
	}
	for i := from; i <= to && i < len(s.words); i++ {
		if s.words[i].Before&lexicon.AfterComma != 0 || r.tagged(s, i, r.roles.Coord) {
			return true
		}
	}
	return false
}

func (r *reading) namedBefore(s *sentence, t *target, c clause) bool {
	return lastGroup(s, t.at, c.from) != nil
}

// owns reports whether the name stands behind "eggs of" or the like.
func (r *reading) owns(s *sentence, g *nameList) bool {
	for _, o := range s.tags {
		if (r.roles.Egg.has(o.class) || r.roles.Hatch.has(o.class)) && o.from < g.from && g.from-o.from <= 4 {
			return true
		}
	}
	return false
}

func (r *reading) valueBetween(s *sentence, from, to int) bool {
	for _, t := range s.targets {
		if t.q != nil && t.from >= from && t.from < to {
			return true
		}
	}
	return false
}

// shared returns all names behind the target when each has a value of another
// kind of its own: the target's value holds for them all, as the percentage
// in "80 % after 10 weeks in A. una and after 11 weeks in A. altera".
func (r *reading) shared(s *sentence, t *target) (out []name.Name) {
	if t.q == nil || len(s.names) < 2 || s.names[0].from < t.to {
		return nil
	}
	last := t.to
	for i, g := range s.names {
		own := false
		for _, o := range s.targets {
			if o.q == nil || o.from < last {
				continue
			}
			if o.class == t.class {
				return nil
			}
			limit := len(s.words)
			if i+1 < len(s.names) {
				limit = s.names[i+1].from
			}
			own = own || o.from < limit
		}
		if !own || g.aside {
			return nil
		}
		last = g.to
		out = append(out, g.names...)
	}
	return out
}

// paired finds the name that "respectively" gives to the target, in this
// sentence or, where it has no names, among those listed last.
func (r *reading) paired(s *sentence, t *target, f *focus) (name.Name, bool) {
	if !s.has.meets(r.roles.Respectively) || t.q == nil {
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
	if len(s.names) == 0 && len(f.all) == count {
		return f.all[index], true
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

// referred resolves "the former", "the latter" and "both species", read last
// before the target, to names of this sentence or of the focus.
func (r *reading) referred(s *sentence, t *target, f *focus) []name.Name {
	ro := r.roles
	word := referring(s, t, ro.Former, ro.Latter, ro.Both)
	if word == nil || lastGroup(s, t.at, word.to) != nil {
		return nil
	}
	var list []name.Name
	for _, g := range s.names {
		if g.from < word.from && !g.aside {
			list = append(list, g.names...)
		}
	}
	if len(list) < 2 && f.group != nil {
		list = f.group.names
	}
	if len(list) < 2 {
		list = f.all
	}
	switch {
	case len(list) < 2:
		return nil
	case ro.Latter.has(word.class):
		return list[len(list)-1:]
	case ro.Former.has(word.class):
		return list[:1]
	}
	return list
}

// referring returns the cue of the classes read last before the target, or, where
// none is, the last in its clause.
func referring(s *sentence, t *target, classes ...bits) (word *tag) {
	for i := range s.tags {
		g := &s.tags[i]
		switch {
		case !slices.ContainsFunc(classes, func(b bits) bool { return b.has(g.class) }):
		case g.from < t.at, s.clauseAt(g.from) == t.clause && (word == nil || word.from >= t.at):
			word = g
		}
	}
	return word
}

// lastGroup returns the names that stand last at words [from, at), bystanders
// left out.
func lastGroup(s *sentence, at, from int) *nameList {
	for i := len(s.names) - 1; i >= 0; i-- {
		if g := s.names[i]; g.from >= from && g.from < at && !g.aside {
			return g
		}
	}
	return nil
}

// firstGroup returns the names that stand first behind word at.
func firstGroup(s *sentence, at int) *nameList {
	for _, g := range s.names {
		if g.from >= at && !g.aside {
			return g
		}
	}
	return nil
}

// lead is whom a text names first, and in which region: where the title names
// nobody, later parts of the text are about the same animal until they name
// another.
type lead struct {
	group  *nameList
	region int
}

func (r *reading) firstNamed() lead {
	for _, s := range r.sentences {
		for _, g := range s.names {
			if !g.aside {
				return lead{g, s.region}
			}
		}
	}
	return lead{}
}

// resumed is the focus where s goes on from a sentence shortly before that named
// it, with a pronoun among its first words: "The clay-pan shrimp, Q. pallidipes,
// is another story. Its mud must be dry."
func (r *reading) resumed(s *sentence, f *focus) *nameList {
	const opening, back = 4, 2
	if f.group == nil || !slices.ContainsFunc(s.tags, func(g tag) bool { return g.from < opening && r.roles.Heir.has(g.class) }) {
		return nil
	}
	for d := 1; d <= back; d++ {
		if o := r.at(s.index-d, s.region); o != nil && slices.Contains(o.names, f.group) {
			return f.group
		}
	}
	return nil
}

// ofSource returns the one species of a cited paper's title, where the text says
// nothing else of whom it speaks and has several in view.
func (r *reading) ofSource(s *sentence, t *target, f *focus) []name.Name {
	all := r.fallback(f)
	if all == nil || len(all.names) < 2 {
		return nil
	}
	c, ok := r.citedFor(s, t)
	if !ok {
		return nil
	}
	found := r.entitled(s.page.Text[c.start:c.end])
	if len(found) != 1 {
		return nil
	}
	for _, n := range all.names {
		if n.Full() == found[0].Full() {
			return []name.Name{n}
		}
	}
	return nil
}

// fallback is the focus, narrowed by the title where both name names.
func (r *reading) fallback(f *focus) *nameList {
	switch {
	case len(r.titled) == 0 && f.group == nil && r.lead.region < f.region:
		return r.lead.group
	case len(r.titled) == 0:
		return f.group
	}
	title := &nameList{}
	for _, g := range r.titled {
		title.names = append(title.names, g.names...)
	}
	if f.group == nil {
		return title
	}
	var shared []name.Name
	for _, n := range f.group.names {
		for _, m := range title.names {
			if n.Full() == m.Full() || n.Genus == m.Genus && m.Rank == name.Genus {
				shared = append(shared, n)
			} else if n.Genus == m.Genus && n.Rank == name.Genus {
				shared = append(shared, m)
			}
		}
	}
	switch {
	case len(shared) > 0:
		return &nameList{names: shared}
	case f.topic:
		return f.group
	}
	return title
}

// neighbours returns the sentences of the region within twice the reach.
func (r *reading) neighbours(s *sentence) []*sentence {
	from, to := s.index, s.index
	for from > 0 && s.index-from < 2*reach && r.sentences[from-1].region == s.region {
		from--
	}
	for to < len(r.sentences) && to-s.index <= 2*reach && r.sentences[to].region == s.region {
		to++
	}
	return r.sentences[from:to]
}

// only returns the sole name of the neighbourhood, where it has one.
func (r *reading) only(s *sentence) *nameList {
	var g *nameList
	for _, o := range r.neighbours(s) {
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
	var all []name.Name
	for _, g := range s.names {
		if !g.aside {
			all = append(all, g.names...)
		}
	}
	if len(all) > 1 {
		f.all = all
	}
	if len(s.names) == 0 && len(f.all) > 1 && s.has.meets(r.roles.Both) {
		f.group, f.topic = &nameList{names: f.all}, s.has.meets(r.roles.Topic) // "both were kept moist": what follows is of both
	}
	for _, g := range s.names {
		if g.aside {
			continue
		}
		f.group, f.topic = g, s.has.meets(r.roles.Topic)
		return
	}
}

// written returns the names as claims show them: a genus alone gives way to
// its species where the title, or for an everyday word the text around, has
// just one of that genus.
func (r *reading) written(s *sentence, n name.Name) string {
	full := n.Full()
	if n.Rank != name.Genus {
		return full
	}
	groups := r.titled
	if n.Common {
		for _, o := range r.neighbours(s) {
			groups = append(groups[:len(groups):len(groups)], o.names...)
		}
	}
	if found := soleSpecies(groups, n.Genus); found != nil {
		return found[0]
	}
	if sole := r.species[n.Genus]; len(sole) == 1 && len(r.titled) > 0 && isTitled(r.titled, n) {
		return sole[0]
	}
	return full
}

// recalled gives a value that is told of nobody by name, in a paper with several
// animals in its title, to the one of them of which it was told before: "our own
// mud gave nauplii after 45 days" is about the animal whose mud was chilled so long.
func (r *reading) recalled(found []*finding) {
	var titled []name.Name
	for _, g := range r.titled {
		titled = append(titled, g.names...)
	}
	same := func(a, b name.Name) bool { return a.Full() == b.Full() }
	for i, f := range found {
		if len(titled) < 2 || len(f.s.names) > 0 || f.low == nil && f.high == nil || f.s.has.meets(r.roles.Both) || !slices.EqualFunc(f.subject.names, titled, same) {
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
	for _, s := range r.sentences {
		for _, g := range s.names {
			for _, n := range g.names {
				if full := n.Full(); n.Rank == name.Species && !slices.Contains(out[n.Genus], full) {
					out[n.Genus] = append(out[n.Genus], full)
				}
			}
		}
	}
	return out
}

func isTitled(groups []*nameList, n name.Name) bool {
	for _, g := range groups {
		for _, m := range g.names {
			if m.Rank == name.Genus && m.Genus == n.Genus {
				return true
			}
		}
	}
	return false
}

// soleSpecies returns the one species of the genus among the groups, written
// out; the genus itself where they name two, nil where they name none.
func soleSpecies(groups []*nameList, genus string) []string {
	found := ""
	for _, g := range groups {
		for _, m := range g.names {
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

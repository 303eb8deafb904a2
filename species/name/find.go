package name

import (
	"slices"
	"strings"
)

// finder finds names in one text with the knowledge of its scope.
type finder struct {
	reader
	*Scope
	out    []Name
	last   map[string]string // first letter → genus named last
	recent int               // word after the last species name, -1 before any
	sense  Name              // that species name
}

// reach is how many words after a species a bare epithet may stand.
const reach = 30

func (f *finder) remember(n Name, next int) {
	if n.Rank == Group {
		return
	}
	if !strings.HasSuffix(n.Genus, ".") {
		f.last[n.Genus[:1]] = n.Genus
	}
	if n.Rank == Species {
		f.recent, f.sense = next, n
	}
}

func (f *finder) nameAt(i int) (n Name, next int, ok bool) {
	w := f.words[i]
	if w.kind != letters {
		return n, 0, false
	}
	if s, ok := f.shortTrinomen(i); ok {
		if n, ok := f.expandTrinomen(s.Name); ok {
			return n, s.next, true
		}
	}
	if s, ok := f.shapeAt(i); ok {
		if n, next, ok = f.decide(s); ok {
			return n, next, true
		}
	}
	lower := strings.ToLower(w.text)
	says := f.cat.says[lower]
	if n, next, ok = f.group(i, lower, says); ok {
		return n, next, true
	}
	if n, next, ok = f.everyday(i, lower, says); ok {
		return n, next, true
	}
	return f.bare(i)
}

// decide turns a shape into a name where it has support.
func (f *finder) decide(s shape) (n Name, next int, ok bool) {
	if s.Abbreviated {
		return f.expand(s)
	}
	if !f.knows(s.Genus) {
		return n, 0, false
	}
	if s.Epithet != "" && (!f.epithetOf(s.Genus, s.Epithet, f.cat) || s.titled && !f.headed(s)) {
		s = f.shorten(s)
	}
	return s.Name, s.next, true
}

func (f *finder) knows(genus string) bool {
	_, listed := f.cat.genera[genus]
	return listed || f.genera[genus]
}

// headed reports whether a capitalised second word is an epithet: "Triops
// Longicaudatus" is a name, "Artemia Cysta" and "Daphnia Moina" are not.
func (f *finder) headed(s shape) bool {
	if f.knows(capitalised(s.Epithet)) || f.cat.groups[s.Epithet] != "" {
		return false
	}
	return f.cat.pairs[s.Genus+" "+s.Epithet] || f.ledger.named[s.Epithet] > 0 || epithetForm(s.Epithet) == telling
}

// shorten leaves the genus of a shape alone.
func (f *finder) shorten(s shape) shape {
	w := f.words[s.first]
	s.Name = Name{Start: w.start, End: w.end, AuthorEnd: w.end, Printed: w.text, Genus: s.Genus, Rank: Genus}
	s.next = s.first + 1
	return s
}

// expand writes an abbreviated genus out: the genus that bears the epithet in
// this paper, else the one named last, else the paper's most frequent, else
// what is customary.
func (f *finder) expand(s shape) (n Name, next int, ok bool) {
	short := strings.TrimSuffix(s.Genus, ".")
	genus := f.genusFor(short, s.Epithet)
	switch {
	case s.Epithet == "":
		if genus == "" || s.Open == "" {
			return n, 0, false
		}
	case genus != "":
		if !f.cat.pairs[genus+" "+s.Epithet] && !f.pairs[genus+" "+s.Epithet] &&
			(f.cat.ordinary[s.Epithet] || f.ledger.everyday(s.Epithet)) {
			return n, 0, false
		}
	case len(short) > 1 || f.cat.ordinary[s.Epithet] || epithetForm(s.Epithet) != telling:
		return n, 0, false
	}
	if genus != "" {
		s.Genus = genus
	}
	return s.Name, s.next, true
}

func (f *finder) genusFor(short, epithet string) string {
	fits := func(g string) bool { return strings.HasPrefix(g, short) }
	if gs := f.epithets[epithet]; epithet != "" {
		if i := slices.IndexFunc(gs, fits); i >= 0 {
			if last := f.last[short[:1]]; slices.Contains(gs, last) && fits(last) {
				return last
			}
			return gs[i]
		}
	}
	if g := f.last[short[:1]]; g != "" && fits(g) {
		return g
	}
	if i := slices.IndexFunc(f.initials[short[:1]], fits); i >= 0 {
		return f.initials[short[:1]][i]
	}
	return f.cat.customary[short]
}

// expandTrinomen writes "T. l. longicaudatus" out: the species named in the
// paper whose epithet has the initial, else the subspecies' own name when it
// repeats it.
func (f *finder) expandTrinomen(n Name) (Name, bool) {
	initial := n.Epithet[:1]
	g := f.genusFor(strings.TrimSuffix(n.Genus, "."), "")
	if g == "" {
		return n, false
	}
	n.Genus = g
	if f.sense.Genus == g && strings.HasPrefix(f.sense.Epithet, initial) {
		n.Epithet = f.sense.Epithet
		return n, true
	}
	if strings.HasPrefix(n.Infra, initial) {
		n.Epithet = n.Infra
		return n, true
	}
	var fits []string
	for e, gs := range f.epithets {
		if strings.HasPrefix(e, initial) && slices.Contains(gs, g) {
			fits = append(fits, e)
		}
	}
	if len(fits) == 1 {
		n.Epithet = fits[0]
	}
	return n, len(fits) == 1
}

// group finds orders, families and everyday words for such groups.
func (f *finder) group(i int, lower string, says role) (n Name, next int, ok bool) {
	w := f.words[i]
	if second := f.at(i + 1); says&opensTwo != 0 && second.before == spaced {
		if g := f.cat.twoWords[lower+" "+strings.ToLower(second.text)]; g != "" {
			return f.named(i, i+2, Name{Rank: Group, Genus: g, Common: true}), i + 2, true
		}
	}
	if says&namesGroup != 0 {
		g := f.cat.groups[lower]
		return f.named(i, i+1, Name{Rank: Group, Genus: g, Common: !strings.EqualFold(g, w.text)}), i + 1, true
	}
	if family := len(w.text) > 7 && isCapital(w.text) && isPlain(lower) && strings.HasSuffix(lower, "idae"); family {
		return f.named(i, i+1, Name{Rank: Group, Genus: w.text}), i + 1, true
	}
	return n, 0, false
}

// everyday finds "nothos", "artemia salina" in small letters, and the genus
// in a German compound such as "Artemianauplien".
func (f *finder) everyday(i int, lower string, says role) (n Name, next int, ok bool) {
	genus := ""
	if says&namesGenus != 0 {
		if genus = f.cat.everyday[lower]; genus == "" && f.words[i].text == lower {
			genus = f.cat.lower[lower]
		}
	}
	if genus == "" {
		return f.compound(i, lower)
	}
	if e := f.at(i + 1); e.before == spaced && isLower(e.text) && f.cat.pairs[genus+" "+e.text] {
		if f.words[i].text == strings.ToLower(genus) || !f.cat.ordinary[e.text] {
			return f.named(i, i+2, Name{Rank: Species, Genus: genus, Epithet: e.text, Common: true}), i + 2, true
		}
	}
	return f.named(i, i+1, Name{Rank: Genus, Genus: genus, Common: true}), i + 1, true
}

func (f *finder) compound(i int, lower string) (n Name, next int, ok bool) {
	if len(lower) != len(f.words[i].text) {
		return n, 0, false // folding moved the letters
	}
	if !endsIn(lower, f.cat.tails, 4) {
		return n, 0, false
	}
	for cut := 4; cut <= len(lower)-2 && cut <= 24; cut++ {
		genus := f.cat.lower[lower[:cut]]
		if genus == "" {
			genus = f.cat.everyday[lower[:cut]]
		}
		if genus != "" && f.cat.context["tail"][lower[cut:]] {
			n = f.named(i, i+1, Name{Rank: Genus, Genus: genus, Common: true})
			n.End = n.Start + cut
			n.Printed, n.AuthorEnd = f.text[n.Start:n.End], n.End
			return n, i + 1, true
		}
	}
	return n, 0, false
}

// bare finds an epithet without its genus, soon after a species of that
// genus: "eggs of N. rachovii and those of eggersi".
func (f *finder) bare(i int) (n Name, next int, ok bool) {
	w := f.words[i]
	if f.recent < 0 || i-f.recent > reach || !isLower(w.text) || f.cat.ordinary[w.text] || !f.joins(i) {
		return n, 0, false
	}
	switch epithetForm(w.text) {
	case foreign:
		return n, 0, false
	case plausible:
		if !f.pairs[f.sense.Genus+" "+w.text] && !f.cat.pairs[f.sense.Genus+" "+w.text] {
			return n, 0, false
		}
	}
	if f.ledger.isRomance() && !f.pairs[f.sense.Genus+" "+w.text] {
		return n, 0, false
	}
	return f.named(i, i+1, Name{Rank: Species, Genus: f.sense.Genus, Epithet: w.text, Abbreviated: true}), i + 1, true
}

// joins reports whether the word before i ties it to names before: "of", "and"
// and their like.
func (f *finder) joins(i int) bool {
	switch f.at(i - 1).text {
	case "of", "and", "or", "in", "von", "und", "oder", "bei", "de", "et", "ou", "y", "o", "e", "di", "than", "als", "for", "für", "pour", "para", "per":
		return f.at(i).before == spaced
	}
	return false
}

func (f *finder) named(from, to int, n Name) Name {
	n.Start, n.End = f.words[from].start, f.words[to-1].end
	n.Printed, n.AuthorEnd = f.text[n.Start:n.End], n.End
	return n
}

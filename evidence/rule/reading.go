package rule

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/evidence/rule/table"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// reading is a document with everything marked in it that rules speak of.
type reading struct {
	*vocabulary
	set       *Set
	doc       *ingest.Document
	sentences []*sentence
	title     bits              // classes in the title
	titled    []*nameList       // names in the title
	lead      lead              // the first names in the text
	headed    map[int]*nameList // names in the heading of a region
	recent    []*finding        // so far, in order
	scope     *name.Scope
	sources   map[string][]name.Name // whom an entry of the references names, by author and year
	apart     bool                   // the paper tells emergence from hatching
	places    []tablePlace
	species   map[string][]string // species that the text names, by genus
}

// tag is a class or kind at some words of a sentence: [from, to).
type tag struct {
	class    int
	from, to int
}

// sentence is one sentence with its marks.
type sentence struct {
	span
	index   int // in the reading
	page    *ingest.Page
	block   ingest.Block
	head    bits // classes in the heading above
	lex     *lexicon.Lexicon
	words   []lexicon.Word
	tags    []tag
	has     bits
	targets []*target
	names   []*nameList
	cites   []span
	clauses []clause
	region  int       // sentences of one region share their heading
	grouped bool      // speaks of a mixed group
	caption bool      // says what a figure or table shows
	opening *sentence // on the page before, where s goes on from there
}

// target is one value of one quantity, or a cue, that rules look at.
type target struct {
	span
	kind      string
	class     int
	q         *quantity.Quantity // nil for a cue
	item      int
	siblings  int      // items of the quantity
	low, high *float64 // canonical
	unit      string
	from, to  int // words of the whole quantity or cue
	at        int // word of the item itself
	clause    int
	broken    bool // touched by an untrusted mark
}

// tablePlace is where a table stands.
type tablePlace struct {
	page   int            // index in the document
	blocks []ingest.Block // of the page
	at     int            // index of the table among them
	lang   string         // of the text around
	region int
	next   int // index of the sentence behind it
}

// nameList is a list of names that are spoken of together.
type nameList struct {
	span
	from, to int
	names    []name.Name
	aside    bool // a bystander: "beside Triops"
}

// read marks up doc.
func (v *vocabulary) read(doc *ingest.Document, scope *name.Scope) *reading {
	r := &reading{vocabulary: v, doc: doc, headed: map[int]*nameList{}, sources: map[string][]name.Name{}}
	lexFor := v.documentLexicon(doc)
	r.scope = scope
	r.readTitle(scope, lexFor)
	var head bits
	region := 0
	for i := range doc.Pages {
		page := &doc.Pages[i]
		names := scope.Find(page.Text)
		blocks := v.tables.LaidOut(page, doc.Format, lexFor.Lang())
		for k, b := range blocks {
			switch {
			case skipped(b):
				r.readReference(page, b, names)
				continue
			case b.Kind == ingest.Title || b.Kind == ingest.Heading:
				head = v.classesIn(page.Text, b.Start, b.End, lexFor)
				region++
				r.readHeading(page, b, region, names)
				continue
			}
			if b.Kind == ingest.Table {
				r.places = append(r.places, tablePlace{i, blocks, k, lexFor.Lang(), region, len(r.sentences)})
				continue
			}
			r.addBlock(page, b, head, region, names, lexFor)
		}
	}
	return r
}

// skipped reports whether a block tells nothing about eggs by its place.
func skipped(b ingest.Block) bool {
	return b.Kind == ingest.Reference || b.Section == ingest.SectionReferences || b.Section == ingest.SectionOther
}

// documentLexicon tells the language of the whole document from its frequent
// words, where the document does not say.
func (v *vocabulary) documentLexicon(doc *ingest.Document) *lexicon.Lexicon {
	if lex, ok := v.lexicons[doc.Lang]; ok {
		return lex
	}
	const enough = 4000 // bytes a page are plenty to tell
	var ws []lexicon.Word
	for _, p := range doc.Pages {
		ws = append(ws, lexicon.Words(p.Text, 0, min(len(p.Text), enough))...)
		if len(ws) > 5000 {
			break
		}
	}
	return v.lexiconFor(ws, "en")
}

func (r *reading) readTitle(scope *name.Scope, lex *lexicon.Lexicon) {
	t := r.doc.Title
	r.title = r.classesIn(t, 0, len(t), lex)
	ws := lexicon.Words(t, 0, len(t))
	r.titled = groupNames(t, ws, scope.Title(), nil)
}

// readHeading notes whom a heading names: the text below is about them until it
// names another.
func (r *reading) readHeading(page *ingest.Page, b ingest.Block, region int, names []name.Name) {
	var here []name.Name
	for _, n := range names {
		if n.Start >= b.Start && n.End <= b.End {
			here = append(here, n)
		}
	}
	// One animal, or several that are spoken of together.
	if groups := groupNames(page.Text, lexicon.Words(page.Text, b.Start, b.End), here, nil); len(groups) == 1 {
		r.headed[region] = groups[0]
	}
}

func (v *vocabulary) classesIn(text string, start, end int, lex *lexicon.Lexicon) (b bits) {
	for _, c := range lex.Find(lexicon.Words(text, start, end), v.masks) {
		b.set(v.classes[c.Class])
	}
	return b
}

// addBlock cuts a block into sentences and marks each. A block of its own
// language, as an abstract may be, is read with that language's cues.
func (r *reading) addBlock(page *ingest.Page, b ingest.Block, head bits, region int, names []name.Name, lex *lexicon.Lexicon) {
	const tellable = 12 // words
	if ws := lexicon.Words(page.Text, b.Start, min(b.End, b.Start+2000)); len(ws) >= tellable {
		lex = r.lexiconFor(ws, lex.Lang())
	}
	quantities := quantity.Find(page.Text[b.Start:b.End])
	spans := sentences(page.Text, b.Start, b.End, lex)
	qi, ni := 0, 0
	const labelWords = 3 // "Fig. 4." alone: what follows is the caption
	captioned := false
	for _, sp := range spans {
		s := &sentence{span: sp, index: len(r.sentences), page: page, block: b, head: head, lex: lex, region: region}
		s.words = lexicon.Words(page.Text, sp.start, sp.end)
		s.caption = captioned || table.IsCaption(b, s.words)
		if len(s.words) == 0 {
			continue
		}
		var qs []quantity.Quantity
		for ; qi < len(quantities) && quantities[qi].Start+b.Start < sp.end; qi++ {
			if q := quantities[qi]; q.Start+b.Start >= sp.start {
				qs = append(qs, q)
			}
		}
		for ni < len(names) && names[ni].Start < sp.start {
			ni++
		}
		first := ni
		for ni < len(names) && names[ni].Start < sp.end {
			ni++
		}
		captioned = captioned || s.caption && len(s.words) <= labelWords
		s.opening = r.openEnd(s)
		r.mark(s, qs, names[first:ni])
		r.sentences = append(r.sentences, s)
	}
}

// openEnd returns the sentence that the page before leaves without its end, where
// s begins in the middle of one. What stands between them is a page's head or
// foot, alone in its block, or belongs to a table or figure.
func (r *reading) openEnd(s *sentence) *sentence {
	const far, short = 12, 8 // sentences between; words of a page's head
	if first, _ := utf8.DecodeRuneInString(s.text()); !unicode.IsLower(first) || s.caption {
		return nil
	}
	for d := 1; d <= far && d <= len(r.sentences); d++ {
		o := r.sentences[len(r.sentences)-d]
		switch {
		case o.caption:
		case o.page == s.page && (o.block.Start == s.block.Start || len(o.words) > short), o.page.Number < s.page.Number-1:
			return nil
		case o.page != s.page && !strings.ContainsAny(o.text()[len(o.text())-1:], ".!?:"):
			return o
		case o.page != s.page && (o.start > o.block.Start || o.end < o.block.End):
			return nil
		}
	}
	return nil
}

// mark finds the tags, targets, names, citations and clauses of s.
func (r *reading) mark(s *sentence, qs []quantity.Quantity, names []name.Name) {
	for _, c := range s.lex.Find(s.words, r.masks) {
		s.tag(r.classes[c.Class], c.From, c.To)
	}
	if class, ok := r.classes["aim"]; ok && strings.HasSuffix(s.text(), "?") {
		s.tag(class, 0, 1) // a question claims nothing
	}
	r.compose(s)
	qs = append(r.shareUnits(s, qs), qs...)
	for i := range qs {
		r.addQuantity(s, &qs[i])
	}
	r.elided(s)
	r.anaphors(s)
	r.tabulated(s)
	r.takeBack(s)
	if s.caption && r.isRow(s) {
		s.targets = nil // the head of a table that stands with its caption
	}
	s.names = groupNames(s.page.Text, s.words, names, s.isAside(r.roles.Beside))
	s.grouped = slices.ContainsFunc(names, func(n name.Name) bool { return n.Rank == name.Group })
	s.cites = citations(s.page.Text, s.span)
	s.clauses = r.cut(s)
	r.addCueTargets(s)
	for _, t := range s.targets {
		t.clause = s.clauseAt(t.at)
	}
}

func (s *sentence) tag(class, from, to int) {
	s.tags = append(s.tags, tag{class, from, to})
	s.has.set(class)
}

// isRow reports whether quantities stand side by side in a sentence with nothing
// between them, as in the head of a table, and nothing says what came of them.
func (r *reading) isRow(s *sentence) bool {
	if s.has.meets(r.roles.Hatch) {
		return false
	}
	side := 0
	for i, t := range s.targets[:max(0, len(s.targets)-1)] {
		if o := s.targets[i+1]; t.q != nil && o.q != nil && o.q != t.q && o.from == t.to && s.words[o.from].Before == 0 {
			side++
		}
	}
	return side > 1
}

// takeBack drops cues that their company makes into others: words of need that
// hold a share within them ("only 4 % hatched after twelve weeks" says how few
// did, not what they need), and words of storing within those of drying ("had
// lain dry").
func (r *reading) takeBack(s *sentence) {
	ro := r.roles
	mistaken := func(g tag) bool {
		switch {
		case ro.Need.has(g.class) || ro.Lift.has(g.class):
			return slices.ContainsFunc(s.targets, func(t *target) bool { return t.kind == "fraction" && t.from > g.from && t.to < g.to })
		case ro.Store.has(g.class):
			return slices.ContainsFunc(s.tags, func(o tag) bool {
				return ro.Dried.has(o.class) && o.from <= g.from && g.to <= o.to && o.to-o.from > g.to-g.from
			})
		}
		return false
	}
	kept := make([]tag, 0, len(s.tags))
	for _, g := range s.tags {
		if !mistaken(g) {
			kept = append(kept, g)
		}
	}
	if len(kept) == len(s.tags) {
		return
	}
	s.tags, s.has = kept, bits{}
	for _, g := range kept {
		s.has.set(g.class)
	}
}

// wordAt returns the index of the first word that ends behind byte i.
func (s *sentence) wordAt(i int) int {
	lo, hi := 0, len(s.words)
	for lo < hi {
		mid := (lo + hi) / 2
		if s.words[mid].End > i {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return lo
}

func (s *sentence) text() string { return s.page.Text[s.start:s.end] }

// addQuantity makes a target of each value of q.
func (r *reading) addQuantity(s *sentence, q *quantity.Quantity) {
	if q.Kind == quantity.Photoperiod {
		r.addPhotoperiod(s, q)
		return
	}
	if q.Kind == quantity.Count {
		r.countYoung(s, q)
		return
	}
	if r.dissolved(s, q) {
		oxygen := *q
		oxygen.Kind = quantity.Oxygen
		q = &oxygen
	}
	class, ok := r.classes[string(q.Kind)]
	if !ok {
		return
	}
	items, unit, err := q.Canonical()
	start, end := q.Start+s.block.Start, q.End+s.block.Start
	if q.Of != nil && !strings.ContainsAny(q.Text, "%‰") && !strings.Contains(q.Text, "percent") {
		counted := *q // "23 of 40 eggs": the text does not print the share
		counted.Implied = true
		q = &counted
	}
	if q.Implied && r.absent(s, start) {
		return
	}
	if err != nil || q.Difference || uncertain(s.page.Text, start, q) || s.converts(start, q, items) {
		return
	}
	from, to := s.wordAt(start), s.wordAt(end)
	if to < len(s.words) && s.words[to].Start < end {
		to++
	}
	kind := string(q.Kind)
	items = slices.Clone(items)
	if c, k, u := r.asLevels(s, q, items, from); k != "" {
		class, kind, unit = c, k, quantity.Unit(u)
	}
	r.bounded(s, q, items, from, to)
	items = r.change(s, q, items, from)
	s.tag(class, from, to)
	r.tagSize(s, q, items, from, to)
	for i, it := range items {
		if it.Low == nil && it.High == nil {
			continue
		}
		sp := span{it.Start + s.block.Start, it.End + s.block.Start}
		s.targets = append(s.targets, &target{span: sp, kind: kind, class: class, q: q, item: i, siblings: len(items),
			low: it.Low, high: it.High, unit: string(unit), from: from, to: to, at: s.wordAt(sp.start),
			broken: s.page.Marked(ingest.Untrusted, start, end)})
	}
}

// absent reports whether a word that denies stands right before byte i: "without
// any refrigerator" names no temperature.
func (r *reading) absent(s *sentence, i int) bool {
	const near = 2
	at := s.wordAt(i)
	void := r.classes[lexicon.Void]
	return slices.ContainsFunc(s.tags, func(g tag) bool {
		return (r.roles.Without.has(g.class) || r.roles.Neg.has(g.class)) && g.to <= at && at-g.to < near || g.class == void && g.from < at && at < g.to
	})
}

// countYoung marks a number of young that were seen: eggs have hatched.
func (r *reading) countYoung(s *sentence, q *quantity.Quantity) {
	if q.Unit != quantity.Larvae || len(q.Items) == 0 || q.Items[0].Low == nil || *q.Items[0].Low <= 0 || s.has.meets(r.roles.Life) {
		return
	}
	from := s.wordAt(q.Start + s.block.Start)
	s.tag(r.classes["youngcount"], from, max(from+1, s.wordAt(q.End+s.block.Start)))
}

// hardlyAnyShare is the share (%) up to which next to nothing hatched, our own
// judgement.
const hardlyAnyShare = 2

// tagSize marks shares of next to nothing, and temperatures and durations by their size: those at which, and
// for which, eggs are held rather than incubated.
func (r *reading) tagSize(s *sentence, q *quantity.Quantity, items []quantity.Item, from, to int) {
	const (
		cool = 10 // °C, at which eggs may be held moist, our own judgement
		cold = 7  // °C, common practice: refrigerators and cold rooms
		long = 14 // d, common practice: few eggs take longer from wetting
	)
	all := func(holds func(quantity.Item) bool) bool {
		return !slices.ContainsFunc(items, func(it quantity.Item) bool { return !holds(it) })
	}
	if len(items) == 1 && items[0].Low != nil && items[0].High != nil && *items[0].Low < *items[0].High {
		s.tag(r.classes["span"], from, to)
	}
	switch q.Kind {
	case quantity.Fraction:
		if all(func(it quantity.Item) bool { return it.High != nil && *it.High > 0 && *it.High <= hardlyAnyShare }) {
			s.tag(r.classes["hardlyany"], from, to)
		}
	case quantity.Temperature:
		if all(func(it quantity.Item) bool { return it.High != nil && *it.High <= 0 }) {
			s.tag(r.classes["frost"], from, to)
		} else if all(func(it quantity.Item) bool { return it.High != nil && *it.High <= cold }) {
			s.tag(r.classes["coldness"], from, to)
		}
		if all(func(it quantity.Item) bool { return it.High != nil && *it.High > 0 && *it.High <= cool }) {
			s.tag(r.classes["coolness"], from, to)
		}
	case quantity.Duration:
		if q.Ordinal {
			s.tag(r.classes["moment"], from, to)
		}
		inTime := r.stepBack(s, from, r.roles.InsideOf) != from || r.stepBack(s, from, r.roles.InWord) != from && s.has.meets(r.roles.Hatch)
		if !inTime && slices.ContainsFunc(items, func(it quantity.Item) bool {
			return it.Low != nil && *it.Low >= long || it.High != nil && *it.High >= long
		}) {
			s.tag(r.classes["weeks"], from, to)
		}
	}
}

// uncertain reports whether a number should not be read as the quantity that
// it was guessed to be: a test statistic behind a sign, or a number word
// without a unit.
func uncertain(text string, start int, q *quantity.Quantity) bool {
	before := strings.TrimRight(text[max(0, start-4):start], " ")
	if n := len(before); n > 1 && before[n-1] == ':' && before[n-2] >= '0' && before[n-2] <= '9' {
		return true // the second half of a ratio
	}
	if !q.Guessed || q.Kind == quantity.Duration {
		return false
	}
	return strings.HasSuffix(before, "=") || strings.HasSuffix(before, "<") || strings.HasSuffix(before, ">") ||
		!strings.ContainsAny(q.Text, "0123456789") || strings.ContainsAny(q.Text, "<>=")
}

// converts reports whether q says the value before it again in another unit,
// as "(39 °F)" behind "4 °C" does.
func (s *sentence) converts(start int, q *quantity.Quantity, items []quantity.Item) bool {
	if len(s.targets) == 0 {
		return false
	}
	last := s.targets[len(s.targets)-1]
	if last.q == nil || last.q.Implied || last.q.Kind != q.Kind || last.q.Unit == q.Unit {
		return false
	}
	gap := s.page.Text[min(last.q.End+s.block.Start, start):start]
	if len(gap) > 14 || strings.ContainsAny(gap, ".;") {
		return false
	}
	near := func(a, b *float64) bool { return a == nil || b == nil || math.Abs(*a-*b) <= 1+0.05*math.Abs(*a) }
	return near(last.low, items[0].Low) && near(last.high, items[0].High)
}

// addPhotoperiod makes one target of a photoperiod, or one of each of several.
func (r *reading) addPhotoperiod(s *sentence, q *quantity.Quantity) {
	class := r.classes[string(q.Kind)]
	start, end := q.Start+s.block.Start, q.End+s.block.Start
	from, to := s.wordAt(start), s.wordAt(end)
	if to < len(s.words) && s.words[to].Start < end {
		to++
	}
	s.tag(class, from, to)
	days := dayLengths(q)
	for i, one := range days {
		s.targets = append(s.targets, &target{span: span{start, end}, kind: string(q.Kind), class: class, q: one, item: i, siblings: len(days),
			from: from, to: to, at: from, broken: s.page.Marked(ingest.Untrusted, start, end)})
	}
}

// dayLengths parts several day lengths ("8, 12 and 16 h of light") from each
// other; hours of light and of dark are one.
func dayLengths(q *quantity.Quantity) []*quantity.Quantity {
	if len(q.Items) < 3 || slices.ContainsFunc(q.Items, func(it quantity.Item) bool { return it.Low == nil || it.High == nil }) {
		return []*quantity.Quantity{q}
	}
	var out []*quantity.Quantity
	for _, it := range q.Items {
		one := *q
		one.Items = []quantity.Item{it}
		out = append(out, &one)
	}
	return out
}

// addCueTargets makes a target of every cue that some rule looks at.
func (r *reading) addCueTargets(s *sentence) {
	for _, g := range s.tags {
		if r.watched.has(g.class) {
			s.targets = append(s.targets, &target{span: span{s.words[g.from].Start, s.words[g.to-1].End}, class: g.class,
				from: g.from, to: g.to, at: g.from, siblings: 1})
		}
	}
}

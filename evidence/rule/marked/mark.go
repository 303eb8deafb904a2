package marked

import (
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

// Mark marks up doc.
func (v *Vocabulary) Mark(doc *ingest.Document, scope *name.Scope) *Text {
	r := &Text{Vocabulary: v, Doc: doc, Headed: map[int]*NameList{}, sources: map[string][]name.Name{}}
	lexFor := v.documentLexicon(doc)
	r.Scope = scope
	r.readTitle(scope, lexFor)
	var head Bits
	region := 0
	for i := range doc.Pages {
		page := &doc.Pages[i]
		names := scope.Find(page.Text)
		blocks := v.Tables.LaidOut(page, doc.Format, lexFor.Lang())
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
				r.Places = append(r.Places, TablePlace{i, blocks, k, lexFor.Lang(), region, len(r.Sentences)})
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
func (v *Vocabulary) documentLexicon(doc *ingest.Document) *lexicon.Lexicon {
	if lex, ok := v.Lexicons[doc.Lang]; ok {
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

func (r *Text) readTitle(scope *name.Scope, lex *lexicon.Lexicon) {
	t := r.Doc.Title
	r.Title = r.classesIn(t, 0, len(t), lex)
	ws := lexicon.Words(t, 0, len(t))
	r.Titled = groupNames(t, ws, scope.Title(), nil)
}

// readHeading notes whom a heading names: the text below is about them until it
// names another.
func (r *Text) readHeading(page *ingest.Page, b ingest.Block, region int, names []name.Name) {
	var here []name.Name
	for _, n := range names {
		if n.Start >= b.Start && n.End <= b.End {
			here = append(here, n)
		}
	}
	// One animal, or several that are spoken of together.
	if groups := groupNames(page.Text, lexicon.Words(page.Text, b.Start, b.End), here, nil); len(groups) == 1 {
		r.Headed[region] = groups[0]
	}
}

func (v *Vocabulary) classesIn(text string, start, end int, lex *lexicon.Lexicon) (b Bits) {
	for _, c := range lex.Find(lexicon.Words(text, start, end), v.masks) {
		b.Set(v.Classes[c.Class])
	}
	return b
}

// addBlock cuts a block into sentences and marks each. A block of its own
// language, as an abstract may be, is read with that language's cues.
func (r *Text) addBlock(page *ingest.Page, b ingest.Block, head Bits, region int, names []name.Name, lex *lexicon.Lexicon) {
	const tellable = 12 // words
	if ws := lexicon.Words(page.Text, b.Start, min(b.End, b.Start+2000)); len(ws) >= tellable {
		lex = r.lexiconFor(ws, lex.Lang())
	}
	quantities := quantity.Find(page.Text[b.Start:b.End])
	var spans []Span
	for _, part := range stretches(page, b) {
		spans = append(spans, sentences(page.Text, part.Start, part.End, lex)...)
	}
	qi, ni := 0, 0
	const labelWords = 3 // "Fig. 4." alone: what follows is the caption
	captioned := false
	for _, sp := range spans {
		s := &Sentence{Span: sp, Index: len(r.Sentences), Page: page, Block: b, Head: head, lex: lex, Region: region}
		s.Words = lexicon.Words(page.Text, sp.Start, sp.End)
		s.Caption = captioned || table.IsCaption(b, s.Words)
		if len(s.Words) == 0 {
			continue
		}
		var qs []quantity.Quantity
		for ; qi < len(quantities) && quantities[qi].Start+b.Start < sp.End; qi++ {
			if q := quantities[qi]; q.Start+b.Start >= sp.Start {
				qs = append(qs, q)
			}
		}
		for ni < len(names) && names[ni].Start < sp.Start {
			ni++
		}
		first := ni
		for ni < len(names) && names[ni].Start < sp.End {
			ni++
		}
		captioned = captioned || s.Caption && len(s.Words) <= labelWords
		s.Opening = r.openEnd(s)
		r.mark(s, qs, names[first:ni])
		r.Sentences = append(r.Sentences, s)
	}
}

// openEnd returns the sentence that the page before leaves without its end, where
// s begins in the middle of one. What stands between them is a page's head or
// foot, alone in its block, or belongs to a table or figure.
func (r *Text) openEnd(s *Sentence) *Sentence {
	const far, short = 12, 8 // sentences between; words of a page's head
	if first, _ := utf8.DecodeRuneInString(s.Text()); !unicode.IsLower(first) || s.Caption {
		return nil
	}
	for d := 1; d <= far && d <= len(r.Sentences); d++ {
		o := r.Sentences[len(r.Sentences)-d]
		switch {
		case o.Caption:
		case o.Page == s.Page && (o.Block.Start == s.Block.Start || len(o.Words) > short), o.Page.Number < s.Page.Number-1:
			return nil
		case o.Page != s.Page && !strings.ContainsAny(o.Text()[len(o.Text())-1:], ".!?:"):
			return o
		case o.Page != s.Page && (o.Start > o.Block.Start || o.End < o.Block.End):
			return nil
		}
	}
	return nil
}

// mark finds the tags, targets, names, citations and clauses of s.
func (r *Text) mark(s *Sentence, qs []quantity.Quantity, names []name.Name) {
	for _, c := range s.lex.Find(s.Words, r.masks) {
		s.tag(r.Classes[c.Class], c.From, c.To)
	}
	if class, ok := r.Classes["aim"]; ok && strings.HasSuffix(s.Text(), "?") {
		s.tag(class, 0, 1) // a question claims nothing
	}
	s.Names = groupNames(s.Page.Text, s.Words, names, s.isAside(r.Roles.Beside))
	r.compose(s)
	qs = append(r.shareUnits(s, qs), r.printed(s, qs)...)
	for i := range qs {
		r.addQuantity(s, &qs[i])
	}
	r.elided(s)
	r.anaphors(s)
	r.tabulated(s)
	r.takeBack(s)
	r.joinSeries(s)
	if s.Caption && r.isRow(s) {
		s.Targets = nil // the head of a table that stands with its caption
	}
	s.Grouped = slices.ContainsFunc(names, func(n name.Name) bool { return n.Rank == name.Group })
	s.Cites = citations(s.Page.Text, s.Span)
	s.Clauses = r.cut(s)
	r.addCueTargets(s)
	for _, t := range s.Targets {
		t.Clause = s.ClauseAt(t.At)
	}
}

// isRow reports whether quantities stand side by side in a sentence with nothing
// between them, as in the head of a table, and nothing says what came of them.
func (r *Text) isRow(s *Sentence) bool {
	if s.Has.Meets(r.Roles.Hatch) {
		return false
	}
	side := 0
	for i, t := range s.Targets[:max(0, len(s.Targets)-1)] {
		if o := s.Targets[i+1]; t.Q != nil && o.Q != nil && o.Q != t.Q && o.From == t.To && s.Words[o.From].Before == 0 {
			side++
		}
	}
	return side > 1
}

// takeBack drops cues that their company makes into others: words of need that
// hold a share within them ("only 4 % hatched after twelve weeks" says how few
// did, not what they need), words of rearing that lift a share ("raised it to 57 %"),
// and words of storing within those of drying ("had lain dry").
func (r *Text) takeBack(s *Sentence) {
	ro := r.Roles
	mistaken := func(g Tag) bool {
		switch {
		case ro.Need.Has(g.Class) || ro.Lift.Has(g.Class):
			return slices.ContainsFunc(s.Targets, func(t *Target) bool { return t.Kind == "fraction" && t.From > g.From && t.To < g.To })
		case ro.Rear.Has(g.Class):
			return slices.ContainsFunc(s.Tags, func(o Tag) bool {
				return ro.Reached.Has(o.Class) && o.From <= g.From && g.To < o.To && slices.ContainsFunc(s.Targets, func(t *Target) bool { return t.Kind == "fraction" && t.From == o.To })
			})
		case ro.Store.Has(g.Class):
			return slices.ContainsFunc(s.Tags, func(o Tag) bool {
				return ro.Dried.Has(o.Class) && o.From <= g.From && g.To <= o.To && o.To-o.From > g.To-g.From
			})
		}
		return false
	}
	kept := make([]Tag, 0, len(s.Tags))
	for _, g := range s.Tags {
		if !mistaken(g) {
			kept = append(kept, g)
		}
	}
	if len(kept) == len(s.Tags) {
		return
	}
	s.Tags, s.Has = kept, Bits{}
	for _, g := range kept {
		s.Has.Set(g.Class)
	}
}

// addCueTargets makes a target of every cue that some rule looks at.
func (r *Text) addCueTargets(s *Sentence) {
	for _, g := range s.Tags {
		if r.watched.Has(g.Class) {
			s.Targets = append(s.Targets, &Target{Span: Span{s.Words[g.From].Start, s.Words[g.To-1].End}, Class: g.Class,
				From: g.From, To: g.To, At: g.From, Siblings: 1})
		}
	}
}

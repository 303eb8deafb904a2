package rule

import (
	"cmp"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
)

// Explained is a claim with the reasons for it.
type Explained struct {
	Claim    evidence.Claim
	Cues     []Cue    // what the clause and its rule rested on, in text order
	Sentence string   // the sentence of the claim
	Subject  []string // the names taken, as printed
}

// Cue is a word or phrase of the page that belongs to a class.
type Cue struct {
	Class      string
	Start, End int // code points of the page
	Text       string
}

// claims turns findings into claims, one for each name.
func (r *reading) claims(found []*finding) []Explained {
	var (
		out  []Explained
		page *ingest.Page
		pos  runes
	)
	for _, f := range found {
		if f.s.page != page {
			page, pos = f.s.page, runes{text: f.s.page.Text}
		}
		for i, n := range f.names {
			e := r.explain(f, n, i, &pos)
			if len(e.Claim.Lint()) == 0 {
				out = append(out, e)
			}
		}
	}
	return out
}

func (r *reading) explain(f *finding, taxon string, i int, pos *runes) Explained {
	s := f.s
	quote := f.quote()
	c := evidence.Claim{
		Source: r.doc.Source, Page: s.page.Number, Section: string(s.block.Section),
		Quote: s.page.Text[quote.start:quote.end], Start: pos.at(quote.start), End: pos.at(quote.end),
		Taxon: taxon, Stage: cmp.Or(f.stage, r.stage(f)), Factor: f.factor, Bearing: f.bearing,
		Low: f.low, High: f.high, Category: f.category, Rule: f.rule.ID,
		OCR: s.page.How == ingest.ByOCR, Score: r.score(f),
	}
	if c.Low != nil || c.High != nil {
		c.Unit = f.factor.Unit()
		if f.factor == evidence.Oxygen {
			c.Unit = f.t.unit
		}
		c.Printed = f.t.q.Text
		c.Implied = f.t.q.Implied
		from, to := f.t.q.Start+s.block.Start, f.t.q.End+s.block.Start
		c.Inferred = s.page.Marked(ingest.Inferred, from, to) || s.page.Marked(ingest.Suspect, from, to)
	}
	if i < len(f.subject.names) {
		c.TaxonPrinted = f.subject.names[i].Printed
	}
	if !f.rule.Claim.Own {
		c.Secondhand, c.Cited = r.secondhand(s, f.t)
	}
	e := Explained{Claim: c, Sentence: s.text()}
	for _, n := range f.subject.names {
		e.Subject = append(e.Subject, n.Printed)
	}
	e.Cues = r.cues(f, pos)
	return e
}

// secondhand reports whether the statement about the target is given as
// somebody else's, and the citation that says so: one in the same part of the
// sentence, or one that closes the sentence.
func (r *reading) secondhand(s *sentence, t *target) (bool, string) {
	if c, ok := r.citedFor(s, t); ok {
		return true, s.page.Text[c.start:c.end]
	}
	if o := s.opening; o != nil && len(o.cites) > 0 {
		if c := o.cites[len(o.cites)-1]; o.part(o.wordAt(c.start)) == o.part(len(o.words)-1) && s.part(t.at) == 0 {
			return true, o.page.Text[c.start:c.end]
		}
	}
	for _, g := range s.tags {
		if r.roles.Hearsay.has(g.class) && s.part(g.from) == s.part(t.at) && attributes(s, g) {
			return true, ""
		}
	}
	return false, ""
}

// citedFor returns the citation on which the target leans: of several the
// nearest, where a name with its year in brackets speaks of what follows it,
// and a bracket with both closes what stands before. A source's own source
// ("citing Alder (1968), who wrote ...") speaks of what follows alone, and one
// behind a comparison ("longer than the 30 days of Alder") of that alone.
func (r *reading) citedFor(s *sentence, t *target) (best span, ok bool) {
	best, ok = r.nearestCited(s, t)
	return r.shareOfCited(s, t, best), ok
}

// shareOfCited is the target's own part of a bracket that cites as many sources
// as triggers were listed before it: "low oxygen and carbon dioxide, named as
// triggers (Alder 1996; Birch 2001)".
func (r *reading) shareOfCited(s *sentence, t *target, c span) span {
	parts := strings.Split(s.page.Text[c.start:c.end], ";")
	if t.q != nil || len(parts) < 2 {
		return c
	}
	index, n := -1, 0
	for _, o := range s.targets {
		if o.q != nil || triggerOf[r.className(o.class)] == "" || s.words[o.from].Start > c.start {
			continue
		}
		if o == t {
			index = n
		}
		n++
	}
	if index < 0 || n != len(parts) {
		return c
	}
	start := c.start
	for _, p := range parts[:index] {
		start += len(p) + 1
	}
	return trim(s.page.Text, start, start+len(parts[index]))
}

// nearestCited returns the whole citation that [reading.citedFor] takes or takes
// its part of.
func (r *reading) nearestCited(s *sentence, t *target) (best span, ok bool) {
	at := s.words[t.at].Start
	far := 0
	for i, c := range s.cites {
		word := s.wordAt(c.start)
		if k := s.clauseAt(word); k != t.clause && r.inserts(s, k) {
			continue // of what is said in between
		}
		before := c.start < at
		if !before && (r.stepBack(s, word, r.roles.Citing) != word || r.comparedBetween(s, t.to, word)) {
			continue
		}
		closing := i == len(s.cites)-1 && strings.Trim(s.page.Text[c.end:s.end], " .)\n") == ""
		if !closing && s.part(word) != s.part(t.at) {
			continue
		}
		d := c.start - at
		if before {
			d = at - c.end
		}
		if bracket := s.page.Text[c.start] == '(' || s.page.Text[c.start] == '['; bracket == before {
			d += s.end - s.start
		}
		if !ok || d < far {
			best, far, ok = c, d, true
		}
	}
	return best, ok
}

// comparedBetween reports whether a clause of comparison opens at words
// (from, to].
func (r *reading) comparedBetween(s *sentence, from, to int) bool {
	for _, g := range s.tags {
		if r.roles.Comparison.has(g.class) && g.from >= from && g.from < to && s.clauses[s.clauseAt(g.from)].from == g.from {
			return true
		}
	}
	return false
}

// part counts the semicolons before word i.
func (s *sentence) part(i int) (n int) {
	for k := 1; k <= i && k < len(s.words); k++ {
		if s.words[k].Before&(lexicon.AfterStrong|lexicon.AfterColon) == lexicon.AfterStrong {
			n++
		}
	}
	return n
}

// attributes reports whether a word such as "according to" is followed by a
// name; "pers. comm." needs none.
func attributes(s *sentence, g tag) bool {
	if strings.Contains(s.words[g.from].Fold, "pers") || g.to >= len(s.words) {
		return true
	}
	first, _ := utf8.DecodeRuneInString(s.page.Text[s.words[g.to].Start:])
	return unicode.IsUpper(first)
}

// cues lists the cues of the target's clause that rules can see.
func (r *reading) cues(f *finding, pos *runes) []Cue {
	var out []Cue
	c := f.s.clauses[f.t.clause]
	for _, g := range f.s.tags {
		if g.from < c.from || g.from >= c.to {
			continue
		}
		start, end := f.s.words[g.from].Start, f.s.words[g.to-1].End
		out = append(out, Cue{r.className(g.class), pos.at(start), pos.at(end), f.s.page.Text[start:end]})
	}
	return out
}

// quote is the target's clause, and with it the neighbour that says what happened
// where its own does not: "at 1,200 µS/cm the eggs emerged" would be half the truth
// without "but no nauplius came free".
func (f *finding) quote() span {
	s, at := f.s, f.t.clause
	sp := s.clauseSpan(at)
	if !f.borrowed || s.clauses[at].bears == f.bearing {
		return sp
	}
	says := func(k int) bool { return k >= 0 && k < len(s.clauses) && s.clauses[k].bears == f.bearing }
	switch {
	case says(at + 1):
		sp.end = s.clauseSpan(at + 1).end
	case says(at-1) && !hasShare(s, &s.clauses[at]):
		sp.start = s.clauseSpan(at - 1).start
	}
	return sp
}

// clauseSpan returns the bytes of a clause without the comma or conjunction
// that parts it from the next.
func (s *sentence) clauseSpan(i int) span {
	c := s.clauses[i]
	sp := span{s.words[c.from].Start, s.end}
	if c.from == 0 {
		sp.start = s.start
	}
	if c.to < len(s.words) {
		sp.end = s.words[c.to].Start
	}
	text := s.page.Text[sp.start:sp.end]
	if c.to < len(s.words) {
		text = strings.TrimRight(text, " \n\t,;:–—(-")
	} else {
		text = strings.TrimRight(text, " \n\t.")
	}
	if text == "" {
		return span{s.start, s.end}
	}
	return span{sp.start, sp.start + len(text)}
}

// runes converts byte offsets of a text to code points; it is quick for
// offsets that come in order.
type runes struct {
	text       string
	byte, rune int
}

func (p *runes) at(b int) int {
	if b < p.byte {
		if p.byte-b < b {
			p.rune -= utf8.RuneCountInString(p.text[b:p.byte])
		} else {
			p.rune = utf8.RuneCountInString(p.text[:b])
		}
	} else {
		p.rune += utf8.RuneCountInString(p.text[p.byte:b])
	}
	p.byte = b
	return p.rune
}

package rule

import (
	"cmp"
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence"
	"hatchlore/evidence/rule/bearing"
	"hatchlore/evidence/rule/marked"
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
		if f.s.Page != page {
			page, pos = f.s.Page, runes{text: f.s.Page.Text}
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
		Source: r.Doc.Source, Page: s.Page.Number, Section: string(s.Block.Section),
		Quote: s.Page.Text[quote.Start:quote.End], Start: pos.at(quote.Start), End: pos.at(quote.End),
		Taxon: taxon, Stage: cmp.Or(f.stage, r.stage(f)), Factor: f.factor, Bearing: f.bearing,
		Low: f.low, High: f.high, Category: f.category, Rule: f.rule.ID,
		OCR: s.Page.How == ingest.ByOCR, Score: r.score(f),
	}
	if c.Low != nil || c.High != nil {
		c.Unit = f.factor.Unit()
		if f.factor == evidence.Oxygen {
			c.Unit = f.t.Unit
		}
		c.Printed = f.t.Q.Text
		c.Implied = f.t.Q.Implied
		from, to := f.t.Q.Start+s.Block.Start, f.t.Q.End+s.Block.Start
		c.Inferred = s.Page.Marked(ingest.Inferred, from, to) || s.Page.Marked(ingest.Suspect, from, to)
	}
	if i < len(f.subject.names) {
		c.TaxonPrinted = f.subject.names[i].Printed
	}
	if !f.rule.Claim.Own {
		c.Secondhand, c.Cited = r.secondhand(s, f.t)
	}
	e := Explained{Claim: c, Sentence: s.Text()}
	for _, n := range f.subject.names {
		e.Subject = append(e.Subject, n.Printed)
	}
	e.Cues = r.cues(f, pos)
	return e
}

// secondhand reports whether the statement about the target is given as
// somebody else's, and the citation that says so: one in the same part of the
// sentence, or one that closes the sentence.
func (r *reading) secondhand(s *marked.Sentence, t *marked.Target) (bool, string) {
	if c, ok := r.citedFor(s, t); ok {
		return true, s.Page.Text[c.Start:c.End]
	}
	if o := s.Opening; o != nil && len(o.Cites) > 0 {
		if c := o.Cites[len(o.Cites)-1]; o.Part(o.WordAt(c.Start)) == o.Part(len(o.Words)-1) && s.Part(t.At) == 0 {
			return true, o.Page.Text[c.Start:c.End]
		}
	}
	for _, g := range s.Tags {
		if r.Roles.Hearsay.Has(g.Class) && s.Part(g.From) == s.Part(t.At) && attributes(s, g) {
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
func (r *reading) citedFor(s *marked.Sentence, t *marked.Target) (best marked.Span, ok bool) {
	best, ok = r.nearestCited(s, t)
	return r.shareOfCited(s, t, best), ok
}

// shareOfCited is the target's own part of a bracket that cites as many sources
// as triggers were listed before it: "low oxygen and carbon dioxide, named as
// triggers (Alder 1996; Birch 2001)".
func (r *reading) shareOfCited(s *marked.Sentence, t *marked.Target, c marked.Span) marked.Span {
	parts := strings.Split(s.Page.Text[c.Start:c.End], ";")
	if t.Q != nil || len(parts) < 2 {
		return c
	}
	index, n := -1, 0
	for _, o := range s.Targets {
		if o.Q != nil || triggerOf[r.ClassName(o.Class)] == "" || s.Words[o.From].Start > c.Start {
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
	start := c.Start
	for _, p := range parts[:index] {
		start += len(p) + 1
	}
	return marked.Trim(s.Page.Text, start, start+len(parts[index]))
}

// nearestCited returns the whole citation that [reading.citedFor] takes or takes
// its part of.
func (r *reading) nearestCited(s *marked.Sentence, t *marked.Target) (best marked.Span, ok bool) {
	at := s.Words[t.At].Start
	far := 0
	for i, c := range s.Cites {
		word := s.WordAt(c.Start)
		if k := s.ClauseAt(word); k != t.Clause && r.Inserts(s, k) {
			continue // of what is said in between
		}
		before := c.Start < at
		if !before && (s.StepBack(word, r.Roles.Citing) != word || r.comparedBetween(s, t.To, word)) {
			continue
		}
		closing := i == len(s.Cites)-1 && strings.Trim(s.Page.Text[c.End:s.End], " .)\n") == ""
		if !closing && s.Part(word) != s.Part(t.At) {
			continue
		}
		d := c.Start - at
		if before {
			d = at - c.End
		}
		if bracket := s.Page.Text[c.Start] == '(' || s.Page.Text[c.Start] == '['; bracket == before {
			d += s.End - s.Start
		}
		if !ok || d < far {
			best, far, ok = c, d, true
		}
	}
	return best, ok
}

// comparedBetween reports whether a clause of comparison opens at words
// (from, to].
func (r *reading) comparedBetween(s *marked.Sentence, from, to int) bool {
	for _, g := range s.Tags {
		if r.Roles.Comparison.Has(g.Class) && g.From >= from && g.From < to && s.Clauses[s.ClauseAt(g.From)].From == g.From {
			return true
		}
	}
	return false
}

// attributes reports whether a word such as "according to" is followed by a
// name; "pers. comm." needs none.
func attributes(s *marked.Sentence, g marked.Tag) bool {
	if strings.Contains(s.Words[g.From].Fold, "pers") || g.To >= len(s.Words) {
		return true
	}
	first, _ := utf8.DecodeRuneInString(s.Page.Text[s.Words[g.To].Start:])
	return unicode.IsUpper(first)
}

// cues lists the cues of the target's clause that rules can see.
func (r *reading) cues(f *finding, pos *runes) []Cue {
	var out []Cue
	c := f.s.Clauses[f.t.Clause]
	for _, g := range f.s.Tags {
		if g.From < c.From || g.From >= c.To {
			continue
		}
		start, end := f.s.Words[g.From].Start, f.s.Words[g.To-1].End
		out = append(out, Cue{r.ClassName(g.Class), pos.at(start), pos.at(end), f.s.Page.Text[start:end]})
	}
	return out
}

// quote is the target's clause, and with it the neighbour that says what happened
// where its own does not: "at 1,200 µS/cm the eggs emerged" would be half the truth
// without "but no nauplius came free".
func (f *finding) quote() marked.Span {
	s, at := f.s, f.t.Clause
	sp := s.ClauseSpan(at)
	if !f.borrowed || s.Clauses[at].Bears == f.bearing {
		return sp
	}
	says := func(k int) bool { return k >= 0 && k < len(s.Clauses) && s.Clauses[k].Bears == f.bearing }
	switch {
	case says(at + 1):
		sp.End = s.ClauseSpan(at + 1).End
	case says(at-1) && !bearing.HasShare(s, &s.Clauses[at]):
		sp.Start = s.ClauseSpan(at - 1).Start
	}
	return sp
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

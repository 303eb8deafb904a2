package rule

import (
	"cmp"
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

package rule

import (
	"slices"

	"hatchlore/evidence/rule/marked"
	"hatchlore/evidence/rule/table"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

// tableAt gives the place of a table what the text around it knows.
func (r *reading) tableAt(p marked.TablePlace) table.Place {
	return table.Place{
		Doc: r.Doc, Page: p.Page, Blocks: p.Blocks, At: p.At, Lang: p.Lang, Scope: r.Scope,
		About: func() []name.Name { return r.aboutBefore(p.Next, p.Region) },
		Name:  func(n name.Name) string { return r.writtenNear(p.Next, n) },
	}
}

// aboutBefore returns whom the text before sentence next is about, in a region.
func (r *reading) aboutBefore(next, region int) []name.Name {
	f := r.focusIn(region)
	for _, s := range r.Sentences[:next] {
		if s.Region == region && !s.Caption {
			r.follow(&f, s)
		}
	}
	if g := r.fallback(&f); g != nil {
		return g.Names
	}
	return mainName(r.Sentences[:next])
}

// mainName is the species that the sentences before a table are about: three of
// four mentions are of it.
func mainName(before []*marked.Sentence) []name.Name {
	counts, all := map[string]int{}, 0
	var most name.Name
	for _, s := range before {
		for _, g := range s.Names {
			for _, n := range g.Names {
				if n.Rank != name.Species || g.Aside {
					continue
				}
				all++
				if counts[n.Full()]++; counts[n.Full()] > counts[most.Full()] || most.Rank == "" {
					most = n
				}
			}
		}
	}
	if all == 0 || 4*counts[most.Full()] < 3*all {
		return nil
	}
	return []name.Name{most}
}

// writtenNear is a name as claims of a table before sentence next show it.
func (r *reading) writtenNear(next int, n name.Name) string {
	if len(r.Sentences) == 0 {
		return n.Full()
	}
	return r.written(r.Sentences[min(next, len(r.Sentences)-1)], n)
}

// withTables replaces what the text of captions says under the rules for
// sentences by what captions, heads and rows say together.
func (r *reading) withTables(found []*finding) []Explained {
	var tabled []Explained
	for _, at := range r.Places {
		p := r.tableAt(at)
		t := r.Tables.Read(p)
		if t == nil {
			continue
		}
		found = slices.DeleteFunc(found, func(f *finding) bool {
			quote := f.s.ClauseSpan(f.t.Clause)
			return t.Captions(f.s.Page, quote.Start, quote.End)
		})
		for _, c := range t.Claims() {
			if e := r.place(c, p); len(e.Claim.Lint()) == 0 {
				tabled = append(tabled, e)
			}
		}
	}
	out := append(r.claims(found), tabled...)
	slices.SortStableFunc(out, func(a, b Explained) int {
		if a.Claim.Page != b.Claim.Page {
			return a.Claim.Page - b.Claim.Page
		}
		return a.Claim.Start - b.Claim.Start
	})
	return out
}

// place gives a claim of a table its source and place.
func (r *reading) place(c table.Claim, p table.Place) Explained {
	pos := runes{text: c.Page.Text}
	e := Explained{Claim: c.Said, Subject: c.Subject}
	e.Claim.Source, e.Claim.Page, e.Claim.Section = r.Doc.Source, c.Page.Number, string(p.Blocks[p.At].Section)
	e.Claim.Quote, e.Claim.Start, e.Claim.End = c.Page.Text[c.Start:c.End], pos.at(c.Start), pos.at(c.End)
	e.Claim.OCR = c.Page.How == ingest.ByOCR
	e.Sentence = e.Claim.Quote
	head := runes{text: r.Doc.Pages[p.Page].Text}
	for _, h := range c.Heads {
		e.Cues = append(e.Cues, Cue{"head", head.at(h.Start), head.at(h.End), h.Text})
	}
	return e
}

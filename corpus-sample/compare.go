package corpus

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/ingest/citation"
	"hatchlore/species/conflict"
	"hatchlore/species/fulltext"
	"hatchlore/species/witness"
)

// Labelled returns the labelled claims as evidence, by file names as citation
// keys, with what must be known of the papers to weigh them: a reader that
// makes no mistake. A second-hand claim cites the source named nearest to it.
func Labelled() ([]evidence.Claim, witness.Library, error) {
	passages, err := Gold()
	if err != nil {
		return nil, nil, err
	}
	var claims []evidence.Claim
	pages := map[string][]ingest.Page{}
	for _, p := range passages {
		pages[p.Source] = append(pages[p.Source], ingest.Page{Number: p.Page, Text: p.Text})
		for i, c := range p.Claims {
			claims = append(claims, p.evidence(fmt.Sprintf("%s-%d", p.ID, i+1), c))
		}
	}
	library := witness.Library{}
	for source, all := range pages {
		library[source] = paperOf(source, all)
	}
	return claims, library, nil
}

func (p Passage) evidence(id string, c Claim) evidence.Claim {
	at := max(0, strings.Index(p.Text, c.Quote))
	// Spans count from the passage: claims of one passage on a page are as far
	// from those of another as can be, so that they never share words.
	start := len([]rune(p.Text[:at]))
	e := evidence.Claim{
		ID: id, Source: p.Source, Paper: p.Source, Page: c.Page, Start: start, End: start + len([]rune(c.Quote)), Quote: c.Quote,
		Taxon: c.Taxon, TaxonPrinted: c.Taxon, Stage: c.Stage, Factor: c.Factor, Bearing: c.Bearing,
		Low: c.Low, High: c.High, Unit: c.Unit, Category: c.Category, Secondhand: c.Secondhand, Score: 1,
	}
	if c.Secondhand {
		e.Cited = nearestMention(p.Text, at, at+len(c.Quote))
	}
	return e
}

// nearestMention returns the citation that a stretch of text leans on, as
// printed: of those in its own sentence the nearest, before it for choice, else
// the nearest of all.
func nearestMention(text string, start, end int) string {
	from, until := sentenceOf(text, start, end)
	best, cited := math.MaxInt, ""
	for _, m := range citation.Mentions(text) {
		far := max(0, start-m.End, m.Start-end)
		if m.Start >= end {
			far += until - from // behind: what stands before goes first
		}
		if m.Start < from || m.End > until {
			far += 2 * len(text)
		}
		if far < best {
			best, cited = far, text[m.Start:m.End]
		}
	}
	return cited
}

// sentenceOf returns the ends of the sentences in which a stretch of text stands.
func sentenceOf(text string, start, end int) (from, until int) {
	if i := strings.LastIndex(text[:start], ". "); i >= 0 {
		from = i + 2
	}
	if i := strings.Index(text[end:], ". "); i >= 0 {
		return from, end + i + 1
	}
	return from, len(text)
}

// paperOf reads author and year from a file's name, and where the eggs came from
// and how they were handled out of the paper's text.
func paperOf(source string, pages []ingest.Page) witness.Paper {
	name, _, _ := strings.Cut(strings.TrimSuffix(source, path.Ext(source)), "-")
	var year int
	fmt.Sscanf(source[len(name):], "-%d", &year)
	return witness.Paper{Key: source, Authors: []string{strings.ToUpper(name[:1]) + name[1:]}, Year: year, Places: fulltext.OriginsOf(pages), Handled: fulltext.HandledIn(pages)}
}

// Review is conflicts beside the truth: how many of each kind of thing there are
// in it, and what differs.
type Review struct {
	Conflicts, Sides, Reasons int
	Missing                   []string // in the truth and not found
	TooMuch                   []string // found and not in the truth
}

// Whole reports whether what was found equals the truth.
func (r Review) Whole() bool { return len(r.Missing)+len(r.TooMuch) == 0 }

// ReviewConflicts compares conflicts with the truth, by their ids. Sides are equal
// in bearing, value, papers and the number of those that found it themselves; what
// eggs did elsewhere likewise; reasons in kind, in what differed, and in the papers
// compared. file gives the file name of a paper by its key.
func ReviewConflicts(truth []Conflict, got []conflict.Conflict, file func(key string) string) Review {
	var want, found []string
	var r Review
	for _, c := range truth {
		want = append(want, c.lines()...)
		r.Conflicts, r.Sides, r.Reasons = r.Conflicts+1, r.Sides+len(c.Sides)+len(c.Elsewhere), r.Reasons+len(c.Reasons)
	}
	for _, c := range got {
		found = append(found, asTruth(c, file).lines()...)
	}
	r.Missing, r.TooMuch = beyond(want, found), beyond(found, want)
	return r
}

// beyond returns the lines that others lack, each as often as it is too much.
func beyond(lines, others []string) []string {
	others = slices.Clone(others)
	var out []string
	for _, l := range lines {
		if i := slices.Index(others, l); i >= 0 {
			others = slices.Delete(others, i, i+1)
			continue
		}
		out = append(out, l)
	}
	return out
}

// lines tells a conflict in lines that can be compared.
func (c Conflict) lines() []string {
	out := []string{fmt.Sprintf("%s: a conflict of kind %s on %s of %s", c.ID, c.Kind, c.Factor, c.Taxon)}
	for i, s := range c.Sides {
		out = append(out, fmt.Sprintf("%s: side %d %s", c.ID, i+1, s))
	}
	for _, s := range c.Elsewhere {
		out = append(out, fmt.Sprintf("%s: elsewhere, of sides %v, %s", c.ID, s.Of, s))
	}
	for _, r := range c.Reasons {
		out = append(out, fmt.Sprintf("%s: reason %s %s of %s", c.ID, r.Kind, r.What, papersOf(r.Papers)))
	}
	return out
}

// String tells a side in one line. Of a side that a word tells ("not required") the
// numbers are left out, which only some of its claims have.
func (s Side) String() string {
	if s.Category != "" {
		return fmt.Sprintf("%s %s, %d by own findings, of %s", s.Bearing, s.Category, s.FirstHand, papersOf(s.Papers))
	}
	end := func(v *float64) string {
		if v == nil {
			return "open"
		}
		return fmt.Sprintf("%.4g", *v)
	}
	return fmt.Sprintf("%s %s to %s %s, %d by own findings, of %s", s.Bearing, end(s.Low), end(s.High), s.Unit, s.FirstHand, papersOf(s.Papers))
}

// papersOf lists papers, each once, in the order of the alphabet.
func papersOf(papers []string) string {
	return strings.Join(slices.Compact(slices.Sorted(slices.Values(papers))), ", ")
}

// reasonKinds are the truth's words for reasons, by those of package species.
var reasonKinds = map[conflict.ReasonKind]string{
	conflict.UnitSlip: "unit-slip", conflict.StageMixed: "stage", conflict.EchoOnly: "echo", conflict.Twice: "twice",
	conflict.Population: "population", conflict.Conditions: "conditions",
}

// asTruth writes a conflict as the truth does.
func asTruth(c conflict.Conflict, file func(key string) string) Conflict {
	files := func(keys []string) []string {
		var out []string
		for _, k := range keys {
			out = append(out, file(k))
		}
		return out
	}
	side := func(s conflict.Side, of []int) Side {
		return Side{Of: of, Bearing: s.Bearing, Low: s.Low, High: s.High, Unit: s.Unit, Category: s.Category, FirstHand: s.Firsthand + len(s.Torn), Papers: files(s.Papers)}
	}
	out := Conflict{ID: c.ID, Taxon: c.Taxon, Factor: c.Factor, Kind: string(c.Kind)}
	for _, s := range c.Sides {
		out.Sides = append(out.Sides, side(s, nil))
	}
	for _, e := range c.Elsewhere {
		out.Elsewhere = append(out.Elsewhere, side(e.Side, e.Of))
	}
	for _, r := range c.Reasons {
		out.Reasons = append(out.Reasons, Reason{Kind: reasonKinds[r.Kind], What: string(r.Factor) + string(r.Handling), Papers: files(r.Papers), Note: r.Note})
	}
	return out
}

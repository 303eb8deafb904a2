package corpus

import (
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"hatchlore/evidence"
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
	texts := map[string][]string{}
	for _, p := range passages {
		texts[p.Source] = append(texts[p.Source], p.Text)
		for i, c := range p.Claims {
			claims = append(claims, p.evidence(fmt.Sprintf("%s-%d", p.ID, i+1), c))
		}
	}
	library := witness.Library{}
	for source, all := range texts {
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

// paperOf reads author and year from a file's name, and where the eggs came
// from out of the paper's text.
func paperOf(source string, texts []string) witness.Paper {
	name, _, _ := strings.Cut(strings.TrimSuffix(source, path.Ext(source)), "-")
	var year int
	fmt.Sscanf(source[len(name):], "-%d", &year)
	return witness.Paper{Key: source, Authors: []string{strings.ToUpper(name[:1]) + name[1:]}, Year: year, Places: fulltext.Origins(texts...)}
}

// Finding says what of a conflict of the truth was found.
type Finding struct {
	Conflict Conflict
	Found    bool     // a disagreement of its kind on its factor
	Sides    []Side   // that were not found
	Reasons  []Reason // that were not found
}

// Whole reports whether nothing is missing but conditions that are no factors
// ("kept in closed jars"), which no table of claims can show.
func (f Finding) Whole() bool {
	return f.Found && len(f.Sides) == 0 && !slices.ContainsFunc(f.Reasons, func(r Reason) bool { return r.Kind != "conditions" })
}

// Review compares conflicts with the truth. A side is found where one of the
// disagreements on its factor, or what is told beside it, has its bearing, word
// or range, all its papers and own findings; a reason where one of them gives
// its kind and names one of its papers by citation.
func Review(truth []Conflict, got []conflict.Conflict, library witness.Library) []Finding {
	var out []Finding
	for _, want := range truth {
		f := Finding{Conflict: want}
		var sides []conflict.Side
		var reasons []conflict.Reason
		for _, c := range got {
			if c.Taxon != want.Taxon || c.Factor != want.Factor {
				continue
			}
			f.Found = f.Found || string(c.Kind) == want.Kind
			sides = append(sides, c.Sides...)
			for _, e := range c.Elsewhere {
				sides = append(sides, e.Side)
			}
			reasons = append(reasons, c.Reasons...)
		}
		for _, s := range want.Sides {
			if !slices.ContainsFunc(sides, s.isIn) {
				f.Sides = append(f.Sides, s)
			}
		}
		for _, r := range want.Reasons {
			if !slices.ContainsFunc(reasons, func(g conflict.Reason) bool { return r.isIn(g, library) }) {
				f.Reasons = append(f.Reasons, r)
			}
		}
		out = append(out, f)
	}
	return out
}

// String tells a side in one line.
func (s Side) String() string {
	what := s.Category
	if s.Low != nil && s.High != nil {
		what = fmt.Sprintf("%g to %g %s", *s.Low, *s.High, s.Unit)
	}
	return fmt.Sprintf("%s %s, %d by own findings, of %s", s.Bearing, what, s.FirstHand, strings.Join(s.Papers, ", "))
}

func (s Side) isIn(g conflict.Side) bool {
	for _, p := range s.Papers {
		if !slices.Contains(g.Papers, p) {
			return false
		}
	}
	own := g.Firsthand + len(g.Torn)
	if g.Bearing != s.Bearing || own < s.FirstHand || s.FirstHand == 0 && own > 0 {
		return false
	}
	if s.Low == nil {
		return g.Category == s.Category
	}
	low, high := *s.Low, *s.High
	if g.Low != nil {
		low = *g.Low
	}
	if g.High != nil {
		high = *g.High
	}
	return g.Unit == s.Unit && low <= *s.High && high >= *s.Low
}

// reasonKinds are the truth's words for reasons, by those of package species.
var reasonKinds = map[conflict.ReasonKind]string{
	conflict.UnitSlip: "unit-slip", conflict.StageMixed: "stage", conflict.EchoOnly: "echo",
	conflict.Population: "population", conflict.Conditions: "conditions",
}

func (r Reason) isIn(g conflict.Reason, library witness.Library) bool {
	return reasonKinds[g.Kind] == r.Kind && slices.ContainsFunc(r.Papers, func(p string) bool {
		return strings.Contains(g.Note, library.Cite(p))
	})
}

package query

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/species/conflict"
	"hatchlore/species/table"
	"hatchlore/species/value"
)

// Sheet is what the library holds on a taxon, laid out to hand on.
type Sheet struct {
	Taxon      string
	Others     []string // names in papers that are read as this one
	Conditions []Condition
	Papers     int
	Firsthand  int // of those, papers with findings of their own
	Disputes   Disputes
	Sources    []Source
	Cautions   []string
}

// Condition is what is told of one factor.
type Condition struct {
	Factor evidence.Factor
	Told   []Effect // in short, by what it did
	Sure   string   // how sure it is, by SureRule
	Rows   []table.Row
}

// Effect sums up what papers say a factor did at some values.
type Effect struct {
	Bearing evidence.Bearing
	Cited   bool // by papers that only cite; told where no paper has findings of its own
	Values  []string
	Sources []int // numbers of Sheet.Sources, from 1
}

// Source is a paper that the sheet cites.
type Source struct {
	Paper    string // key
	Citation string
	Full     string
	Hash     string // of its file's content
}

// Numbers returns the places, from 1, of papers among the sources of the sheet,
// which cites by them.
func (s Sheet) Numbers(papers []string) []int {
	var out []int
	for i, src := range s.Sources {
		if slices.Contains(papers, src.Paper) {
			out = append(out, i+1)
		}
	}
	return out
}

// SureRule says how Condition.Sure is judged.
const SureRule = "Papers are said to disagree on a condition where papers with findings of their own stand against each other; else it is as sure as the number " +
	"of independent papers that found it themselves. Papers that only cite others do not count, and one experiment counts once however often it was published. " +
	"Nothing here says who is right, or that a finding holds for eggs of another place."

// Sheet returns the sheet of a species or genus.
func (e *Engine) Sheet(ctx context.Context, taxon string) (Sheet, error) {
	ev, err := e.Evidence(ctx, taxon, false, nil)
	if err != nil {
		return Sheet{}, err
	}
	s := Sheet{Taxon: ev.Taxon, Papers: ev.Papers, Cautions: trial.Cautions()}
	if s.Disputes, err = e.Conflicts(ctx, taxon); err != nil {
		return Sheet{}, err
	}
	if s.Sources, err = e.sources(ctx, ev.Rows); err != nil {
		return Sheet{}, err
	}
	for i := 0; i < len(ev.Rows); {
		j := i
		for j < len(ev.Rows) && ev.Rows[j].Factor == ev.Rows[i].Factor {
			j++
		}
		s.Conditions = append(s.Conditions, s.condition(ev.Rows[i:j]))
		i = j
	}
	own := map[string]bool{}
	for _, r := range ev.Rows {
		if !r.Secondhand {
			own[r.Paper] = true
		}
	}
	s.Firsthand = len(own)
	s.Others = otherNames(ev)
	return s, nil
}

// condition sums up the rows of one factor.
func (s Sheet) condition(rows []table.Row) Condition {
	c := Condition{Factor: rows[0].Factor, Rows: rows, Told: s.told(rows, false)}
	if len(c.Told) == 0 {
		c.Told = s.told(rows, true)
	}
	c.Sure = s.sure(rows)
	for _, a := range s.Disputes.Agreed {
		if a.Factor == c.Factor && a.Taxon == rows[0].Name {
			c.Sure += fmt.Sprintf("; %d papers share %s", len(a.Papers), a.Value)
		}
	}
	return c
}

// sure judges the rows of one factor by SureRule.
func (s Sheet) sure(rows []table.Row) string {
	witnesses := map[string]bool{}
	for _, r := range rows {
		if !r.Secondhand && r.Bearing != evidence.Reported {
			witnesses[cmp.Or(r.SameAs, r.Citation)] = true
		}
	}
	papers := fmt.Sprintf("%d papers", len(witnesses))
	if len(witnesses) == 1 {
		papers = "one paper"
	}
	own := func(r table.Row) bool { return !r.Secondhand }
	disagreed := func(k conflict.Conflict) bool { return k.Factor == rows[0].Factor && standing(k) > 1 }
	cited := func(k conflict.Conflict) bool { return k.Factor == rows[0].Factor }
	switch n := len(witnesses); {
	case slices.ContainsFunc(s.Disputes.Conflicts, disagreed):
		return papers + "; they disagree, see below"
	case n == 0 && slices.ContainsFunc(rows, own):
		return "tested or met with, no outcome told"
	case n == 0:
		return "hearsay: cited, and found by no paper here"
	case bothWays(rows):
		return papers + "; the same value hatched some eggs and failed others, see the words"
	case slices.ContainsFunc(s.Disputes.Conflicts, cited):
		return papers + "; only what is cited stands against it, see below"
	case n == 1:
		return papers
	}
	return papers + ", no disagreement found"
}

// bothWays reports whether one value, or one word, both favoured and prevented
// hatching by papers' own findings: something else decided there.
func bothWays(rows []table.Row) bool {
	for _, a := range rows {
		for _, b := range rows {
			if a.Secondhand || b.Secondhand || a.Bearing != evidence.Favours || b.Bearing != evidence.Prevents {
				continue
			}
			if a.Value == b.Value {
				return true
			}
		}
	}
	return false
}

// standing counts the sides of a conflict with findings of their own.
func standing(c conflict.Conflict) (n int) {
	for _, s := range c.Sides {
		if s.Found() {
			n++
		}
	}
	return n
}

// mostTold is how many values a summary names.
const mostTold = 5

// told sums up the rows of one factor by what it did: those of papers' own
// findings, or those that are cited. Values that were only tested or met with
// are told where nothing else is.
func (s Sheet) told(rows []table.Row, cited bool) []Effect {
	var out []Effect
	for _, b := range []evidence.Bearing{evidence.Favours, evidence.Prevents, evidence.Indifferent, evidence.Reported} {
		if b == evidence.Reported && len(out) > 0 {
			break
		}
		t := Effect{Bearing: b, Cited: cited}
		var papers, slips []string
		for _, r := range rows {
			if r.Secondhand != cited || r.Bearing != b {
				continue
			}
			papers = append(papers, r.Paper)
			switch {
			case r.MaybeSlip():
				slips = append(slips, r.Value+" (unit?)")
			case !slices.Contains(t.Values, r.Value):
				t.Values = append(t.Values, r.Value)
			}
		}
		t.Values = withoutBare(t.Values)
		if len(papers) == 0 {
			continue
		}
		if len(t.Values) > mostTold {
			t.Values = ranged(slices.DeleteFunc(slices.Clone(rows), table.Row.MaybeSlip), cited, b)
		}
		t.Values = append(t.Values, slips...)
		t.Sources = s.Numbers(papers)
		out = append(out, t)
	}
	return out
}

// withoutBare leaves out the words that stand with a number beside them: "required,
// 28 d" says "required" as well.
func withoutBare(values []string) []string {
	return slices.DeleteFunc(slices.Clone(values), func(v string) bool {
		return slices.ContainsFunc(values, func(w string) bool { return strings.HasPrefix(w, v+", ") })
	})
}

// ranged sums up many values: the words, and from where to where the numbers of
// each unit reach.
func ranged(rows []table.Row, cited bool, b evidence.Bearing) []string {
	var words, units []string
	ends := map[string][]float64{}
	for _, r := range rows {
		if r.Secondhand != cited || r.Bearing != b {
			continue
		}
		if r.Category != "" && !slices.Contains(words, r.Category) {
			words = append(words, r.Category)
		}
		for _, v := range []*float64{r.Low, r.High} {
			if v == nil {
				continue
			}
			if ends[r.Unit] == nil {
				units = append(units, r.Unit)
			}
			ends[r.Unit] = append(ends[r.Unit], *v)
		}
	}
	for _, u := range units {
		low, high := slices.Min(ends[u]), slices.Max(ends[u])
		words = append(words, value.Print(&low, &high, u, ""))
	}
	return words
}

// otherNames are the printed names of a sheet's claims that are read as its
// taxon; of a genus, its species are no other names.
func otherNames(ev Evidence) []string {
	var out []string
	for _, r := range ev.Rows {
		if r.Name == ev.Taxon && !strings.EqualFold(r.Taxon, ev.Taxon) && !slices.Contains(out, r.Taxon) {
			out = append(out, r.Taxon)
		}
	}
	slices.Sort(out)
	return out
}

// sources returns the full references of the papers in rows, by citation.
func (e *Engine) sources(ctx context.Context, rows []table.Row) ([]Source, error) {
	var out []Source
	done := map[string]bool{}
	for _, r := range rows {
		if done[r.Paper] {
			continue
		}
		done[r.Paper] = true
		head, err := e.store.Head(ctx, r.Paper)
		if err != nil {
			return nil, err
		}
		out = append(out, Source{r.Paper, r.Citation, fullReference(head), head.Hash})
	}
	slices.SortStableFunc(out, func(a, b Source) int { return strings.Compare(a.Citation, b.Citation) })
	return out, nil
}

// fullReference is a paper's whole reference in one line.
func fullReference(p store.Paper) string {
	if p.Format == store.FormatCited {
		return p.Source
	}
	var b strings.Builder
	b.WriteString(strings.Join(p.Authors, "; "))
	if p.Year > 0 {
		fmt.Fprintf(&b, " (%d)", p.Year)
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	b.WriteString(strings.TrimSuffix(p.Title, "."))
	b.WriteString(".")
	if p.Journal != "" {
		b.WriteString(" " + p.Journal)
		if p.Volume != "" {
			b.WriteString(" " + p.Volume)
		}
		if p.Extent != "" {
			b.WriteString(": " + p.Extent)
		}
		b.WriteString(".")
	}
	if p.DOI != "" {
		b.WriteString(" doi:" + p.DOI)
	}
	return strings.TrimSpace(b.String())
}

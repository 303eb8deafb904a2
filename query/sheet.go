package query

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
	"hatchlore/evidence/store"
	"hatchlore/evidence/trial"
	"hatchlore/species"
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
	Told   string // in short
	Sure   string // how sure it is, by SureRule
	Rows   []species.Row
}

// Source is a paper that the sheet cites.
type Source struct {
	Citation string
	Full     string
	Hash     string // of its file's content
}

// SureRule says how Condition.Sure is judged.
const SureRule = "A condition is called disputed where papers with findings of their own stand against each other; else it is as sure as the number " +
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
	for i := 0; i < len(ev.Rows); {
		j := i
		for j < len(ev.Rows) && ev.Rows[j].Factor == ev.Rows[i].Factor {
			j++
		}
		s.Conditions = append(s.Conditions, condition(ev.Rows[i:j], s.Disputes))
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
	s.Sources, err = e.sources(ctx, ev.Rows)
	return s, err
}

// condition sums up the rows of one factor.
func condition(rows []species.Row, d Disputes) Condition {
	c := Condition{Factor: rows[0].Factor, Rows: rows}
	witnesses := map[string]bool{}
	for _, r := range rows {
		if !r.Secondhand && r.Bearing != evidence.Reported {
			witnesses[cmp.Or(r.SameAs, r.Citation)] = true
		}
	}
	disputed := slices.ContainsFunc(d.Conflicts, func(k species.Conflict) bool { return k.Factor == c.Factor && standing(k) > 1 })
	papers := fmt.Sprintf("%d papers", len(witnesses))
	if len(witnesses) == 1 {
		papers = "one paper"
	}
	switch n := len(witnesses); {
	case disputed:
		c.Sure = "disputed, see below"
	case n == 0 && slices.ContainsFunc(rows, func(r species.Row) bool { return !r.Secondhand }):
		c.Sure = "tested or met with, no outcome told"
	case n == 0:
		c.Sure = "hearsay: cited, and found by no paper here"
	case bothWays(rows):
		c.Sure = papers + "; the same value hatched some eggs and failed others, see the words"
	case n == 1:
		c.Sure = papers
	default:
		c.Sure = papers + ", no dispute found"
	}
	c.Told = told(rows, d.Agreed)
	return c
}

// bothWays reports whether one value, or one word, both favoured and prevented
// hatching by papers' own findings: something else decided there.
func bothWays(rows []species.Row) bool {
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
func standing(c species.Conflict) (n int) {
	for _, s := range c.Sides {
		if s.Firsthand > 0 {
			n++
		}
	}
	return n
}

// mostTold is how many values a summary names.
const mostTold = 5

// told sums up a factor: what all papers share, else the values of those with
// findings of their own by what they did, else of the others.
func told(rows []species.Row, agreed []species.Agreement) string {
	for _, a := range agreed {
		if a.Factor == rows[0].Factor && a.Taxon == rows[0].Name {
			return fmt.Sprintf("%s in all %d papers", a.Value, len(a.Papers))
		}
	}
	for _, second := range []bool{false, true} {
		var parts []string
		for _, b := range []evidence.Bearing{evidence.Favours, evidence.Prevents, evidence.Indifferent, evidence.Reported} {
			var values []string
			for _, r := range rows {
				if r.Secondhand == second && r.Bearing == b && !slices.Contains(values, r.Value) {
					values = append(values, r.Value)
				}
			}
			if len(values) > mostTold {
				values = ranged(rows, second, b)
			}
			if len(values) > 0 && (b != evidence.Reported || len(parts) == 0) {
				parts = append(parts, fmt.Sprintf("%s: %s", b, strings.Join(values, "; ")))
			}
		}
		if len(parts) > 0 {
			return strings.Join(parts, "; ")
		}
	}
	return ""
}

// ranged sums up many values: the words, and from where to where the numbers of
// each unit reach.
func ranged(rows []species.Row, second bool, b evidence.Bearing) []string {
	var words, units []string
	ends := map[string][]float64{}
	for _, r := range rows {
		if r.Secondhand != second || r.Bearing != b {
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
		words = append(words, quantity.FormatRange(&low, &high, quantity.Unit(u)))
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
func (e *Engine) sources(ctx context.Context, rows []species.Row) ([]Source, error) {
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
		out = append(out, Source{r.Citation, fullReference(head), head.Hash})
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

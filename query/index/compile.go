package index

import (
	"errors"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search/query"

	"hatchlore/ingest"
	"hatchlore/query/index/match"
	"hatchlore/query/index/naming"
	"hatchlore/query/index/needle"
	"hatchlore/query/index/stem"
)

// ErrCommon is returned when every word asked for is too common to look up.
var ErrCommon = errors.New("every word of the question is too common to look up: add a rarer one")

// weighted is a field with its weight in the score.
type weighted struct {
	name   string
	weight float64
}

// The weights make a page whose methods or results have the words come before
// one that has them elsewhere, and both long before a reference list. They are
// of our own choosing, checked by the ranking tests.
var (
	coreField  = weighted{fieldCore, 1}
	restField  = weighted{fieldRest, 0.7}
	refsField  = weighted{fieldRefs, 0.15}
	titleField = weighted{fieldTitle, 0.4}
	byField    = weighted{fieldBy, 1}
	taxaField  = weighted{fieldTaxa, 0.8}
)

// worth is what a place in a section counts for when a snippet is cut.
func worth(s ingest.Section) float64 {
	for _, f := range []weighted{coreField, refsField} {
		if f.name == fieldOf(s) {
			return f.weight
		}
	}
	return restField.weight
}

// nameShare is what a name counts for beside a word in the same place, unsureShare
// what an abbreviated one does where nobody could tell the genus. printShare is what
// the letters of a name count for, whatever the page means by them: they find a page
// whose names nobody could resolve, and hardly rank it. Their stems differ from
// language to language, and a name would seem rare, and weigh much, wherever few
// papers are in the language.
const (
	nameShare   = 0.8
	unsureShare = 0.1
	printShare  = 0.01
)

// textFields returns the fields in which a word in the given section stands.
func textFields(only ingest.Section) []weighted {
	if only == "" {
		return []weighted{coreField, restField, refsField}
	}
	for _, f := range []weighted{coreField, restField, refsField} {
		if f.name == fieldOf(only) {
			return []weighted{f}
		}
	}
	return nil
}

// nameFields returns the fields in which a name in the given section stands. Of all
// sections they lie within each other, the reference lists' last: a name that few
// reference lists have would else seem rare, and weigh much there.
func nameFields(only ingest.Section) []weighted {
	if only != "" {
		return []weighted{{nameIn(fieldOf(only)), 1}}
	}
	return []weighted{{fieldName, refsField.weight}, {fieldTold, 0.35}, {nameIn(fieldCore), 0.25}, {fieldOften, 0.25}}
}

// compile turns needles and the filters of q into the engine's terms. Needles that are
// too common to be asked for are marked as such.
func (ix *Index) compile(needles []needle.Needle, langs []string, q Query) (query.Query, error) {
	out := bleve.NewBooleanQuery()
	var must, should, without []query.Query
	for i := range needles {
		n := &needles[i]
		u, common := ix.union(*n, langs, q.Section)
		if len(u) == 0 || common {
			n.Better = true
		}
		switch {
		case len(u) == 0: // very common in every language
		case n.Without:
			without = append(without, u)
		case n.Better:
			should = append(should, u)
		default:
			must = append(must, u)
		}
	}
	if len(must) == 0 && len(should) == 0 {
		return nil, ErrCommon
	}
	if len(must) == 0 || q.Most {
		must, should = []query.Query{match.Union(append(must, should...))}, nil
	}
	out.AddMust(match.All(must))
	if len(should) > 0 {
		out.AddShould(should...)
	}
	if len(without) > 0 {
		out.AddMustNot(without...)
	}
	if filters := filters(q); len(filters) > 0 {
		out.AddFilter(bleve.NewConjunctionQuery(filters...))
	}
	return out, nil
}

// union returns the ways in which a page can have n; common says that in some
// language of the library it is a very common word and need not be there.
func (ix *Index) union(n needle.Needle, langs []string, only ingest.Section) (u match.Union, common bool) {
	seen := map[string]bool{}
	share := 1.0
	if n.Named {
		share = printShare
	}
	add := func(f weighted, s needle.Sequence) {
		for _, q := range fieldQueries(f, s) {
			if k := key(q); !seen[k] {
				seen[k] = true
				u = append(u, q)
			}
		}
	}
	fields := textFields(only)
	if only == "" && !n.Without {
		// One word in a paper's title does not rule all its pages out.
		fields = append(fields, titleField)
	}
	for _, lang := range langs {
		seqs, c := n.Sequences(ix.langs[lang])
		common = common || c
		for _, s := range seqs {
			for _, f := range fields {
				add(weighted{f.name, share * f.weight}, s)
			}
		}
	}
	if only == "" && len(u) > 0 {
		seqs, _ := n.Sequences(ix.langs[stem.Plain])
		for _, s := range seqs {
			add(taxaField, s)
			if !n.Without {
				add(byField, s)
			}
		}
	}
	for _, f := range nameFields(only) {
		for _, name := range n.Names {
			of := nameShare
			if naming.IsShort(strings.Fields(name)) {
				of = unsureShare
			}
			add(weighted{f.name, of * f.weight}, needle.Sequence{{name}})
		}
	}
	return u, common
}

func fieldQueries(f weighted, s needle.Sequence) []query.Query {
	if len(s) == 1 {
		var out []query.Query
		for _, term := range s[0] {
			q := bleve.NewTermQuery(term)
			q.SetField(f.name)
			q.SetBoost(f.weight)
			out = append(out, q)
		}
		return out
	}
	terms := make([][]string, len(s))
	for i, slot := range s {
		if terms[i] = slot; len(slot) == 0 {
			terms[i] = []string{""}
		}
	}
	q := query.NewMultiPhraseQuery(terms, f.name)
	q.SetBoost(f.weight)
	return []query.Query{q}
}

// key tells queries of fieldQueries apart.
func key(q query.Query) string {
	switch q := q.(type) {
	case *query.TermQuery:
		return q.FieldVal + "\x00" + q.Term
	case *query.MultiPhraseQuery:
		var b strings.Builder
		b.WriteString(q.FieldVal)
		for _, slot := range q.Terms {
			b.WriteString("\x00\x00" + strings.Join(slot, "\x00"))
		}
		return b.String()
	}
	return ""
}

func filters(q Query) []query.Query {
	var out []query.Query
	exactly := func(field, value string) {
		if value != "" {
			t := bleve.NewTermQuery(value)
			t.SetField(field)
			out = append(out, t)
		}
	}
	exactly(fieldPaper, q.Paper)
	if q.Page > 0 {
		out = append(out, bleve.NewDocIDQuery([]string{docID(q.Paper, q.Page)}))
	}
	exactly(fieldFactor, q.Factor)
	exactly(fieldSection, string(q.Section))
	if q.From != 0 || q.To != 0 {
		from, to := yearTerm(max(q.From, 1)), "9999"
		if q.To != 0 {
			to = yearTerm(q.To)
		}
		yes := true
		r := bleve.NewTermRangeInclusiveQuery(from, to, &yes, &yes)
		r.SetField(fieldYear)
		out = append(out, r)
	}
	return out
}

package logistic

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence/stat"
	"hatchlore/evidence/stat/linear"
)

// Model is a logistic model of dishes: one row of X and one count a dish.
type Model struct {
	Terms  []string // names of X's columns
	X      [][]float64
	Counts []stat.Count
	// Groups holds, for each term as asked for, the columns that it became: three
	// levels are two columns, to be tested together.
	Groups []TermGroup
	// Aliased names columns left out because they depend on earlier ones.
	Aliased []string
}

// TermGroup is one term of the model and its columns.
type TermGroup struct {
	Term    string
	Columns []int
}

// Intercept is the name of the constant column.
const Intercept = "intercept"

// Table holds the factor columns of counted dishes.
type Table struct {
	Names   []string   // of the columns
	Columns [][]string // by column, one level a dish
	Order   [][]string // each column's levels, the baseline first; nil sorts them
	Counts  []stat.Count
}

// levels returns the different levels of column k, the baseline first.
func (t Table) levels(k int) []string {
	if k >= len(t.Order) || t.Order[k] == nil {
		return linear.Levels(t.Columns[k])
	}
	var out []string
	for _, l := range t.Order[k] {
		if slices.Contains(t.Columns[k], l) {
			out = append(out, l)
		}
	}
	for _, l := range linear.Levels(t.Columns[k]) {
		if !slices.Contains(out, l) {
			out = append(out, l)
		}
	}
	return out
}

// NewModel codes the terms for a fit. A term is a column ("drying"), a product
// ("drying:light") or, on request, a straight line over a numeric column
// ("trend(drying)"). Treatment coding: a column's first level in sorted order
// (numbers by size, words by letter) is the baseline. Columns that depend on
// earlier ones are left out and named.
func NewModel(t Table, terms []string) (*Model, error) {
	m := &Model{Terms: []string{Intercept}, Counts: t.Counts}
	for i, c := range t.Counts {
		if err := c.Check(); err != nil {
			return nil, fmt.Errorf("dish %d: %w", i+1, err)
		}
	}
	if len(t.Counts) == 0 {
		return nil, fmt.Errorf("no dish was counted")
	}
	ones := make([]float64, len(t.Counts))
	for i := range ones {
		ones[i] = 1
	}
	columns := [][]float64{ones}
	space, err := linear.NewErrorSpace(columns)
	if err != nil {
		return nil, err
	}
	for _, term := range terms {
		names, values, err := t.code(term)
		if err != nil {
			return nil, err
		}
		g := TermGroup{Term: term}
		for k, v := range values {
			if !space.Add(v) {
				m.Aliased = append(m.Aliased, names[k])
				continue
			}
			g.Columns = append(g.Columns, len(columns))
			m.Terms = append(m.Terms, names[k])
			columns = append(columns, v)
		}
		m.Groups = append(m.Groups, g)
	}
	m.X = transpose(columns)
	return m, nil
}

func transpose(columns [][]float64) [][]float64 {
	out := make([][]float64, len(columns[0]))
	for i := range out {
		for _, c := range columns {
			out[i] = append(out[i], c[i])
		}
	}
	return out
}

// code returns the columns of one term with their names.
func (t Table) code(term string) (names []string, columns [][]float64, err error) {
	names, columns = []string{""}, [][]float64{nil}
	for _, part := range strings.Split(term, ":") {
		pn, pc, err := t.codePart(strings.TrimSpace(part))
		if err != nil {
			return nil, nil, err
		}
		var nextNames []string
		var next [][]float64
		for i := range names {
			for j := range pn {
				nextNames = append(nextNames, strings.TrimPrefix(names[i]+":"+pn[j], ":"))
				next = append(next, product(columns[i], pc[j]))
			}
		}
		names, columns = nextNames, next
	}
	return names, columns, nil
}

func product(a, b []float64) []float64 {
	out := slices.Clone(b)
	for i := range a {
		out[i] *= a[i]
	}
	return out
}

func (t Table) codePart(part string) (names []string, columns [][]float64, err error) {
	name, isTrend := strings.CutPrefix(part, "trend(")
	if isTrend {
		name = strings.TrimSuffix(name, ")")
	}
	k := slices.Index(t.Names, name)
	if k < 0 {
		return nil, nil, fmt.Errorf("no column is named %q: the table has %s", name, strings.Join(t.Names, ", "))
	}
	if isTrend {
		v, err := linear.Numbers(t.Columns[k])
		if err != nil {
			return nil, nil, fmt.Errorf("no trend over %s: %w", name, err)
		}
		return []string{part}, [][]float64{v}, nil
	}
	levels := t.levels(k)
	if len(levels) < 2 {
		return nil, nil, fmt.Errorf("column %s has the one level %q: nothing to compare", name, levels)
	}
	for _, l := range levels[1:] {
		c := make([]float64, len(t.Counts))
		for i, v := range t.Columns[k] {
			if v == l {
				c[i] = 1
			}
		}
		names, columns = append(names, name+"="+l), append(columns, c)
	}
	return names, columns, nil
}

// without returns the model less the given columns, to test them.
func (m *Model) without(columns []int) *Model {
	out := &Model{Counts: m.Counts}
	for j, name := range m.Terms {
		if !slices.Contains(columns, j) {
			out.Terms = append(out.Terms, name)
		}
	}
	for _, row := range m.X {
		var r []float64
		for j, v := range row {
			if !slices.Contains(columns, j) {
				r = append(r, v)
			}
		}
		out.X = append(out.X, r)
	}
	return out
}

package corpus

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/table"
)

// Statement is one line of the evidence table as a keeper makes it who reads
// the papers whole: what one paper says of one value, told once however often
// the paper repeats it. A level that was tested stands with its outcome, and as
// reported only where the paper gives none.
type Statement struct {
	Paper    string // file name
	Pages    []int  // on which it stands
	Taxon    string
	Factor   evidence.Factor
	Bearing  evidence.Bearing
	Stage    evidence.Stage // as the paper defines what it counted; "" for what it only cites or reports
	Low      *float64
	High     *float64
	Unit     string
	Category string
	Cites    string // file name of the paper whose finding it is; "" for its own
}

// Statements returns the evidence table that a careful reader makes of the
// papers.
func Statements() ([]Statement, error) {
	data, err := sample.ReadFile("table.tsv")
	if err != nil {
		return nil, fmt.Errorf("table.tsv: %w", err)
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.LazyQuotes = '\t', true
	records, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("table.tsv: %w", err)
	}
	var out []Statement
	for i, rec := range records[1:] {
		s, err := statementOf(rec)
		if err != nil {
			return nil, fmt.Errorf("table.tsv line %d: %w", i+2, err)
		}
		out = append(out, s)
	}
	return out, nil
}

func statementOf(rec []string) (s Statement, err error) {
	s = Statement{Paper: rec[0], Taxon: rec[2], Factor: evidence.Factor(rec[3]), Bearing: evidence.Bearing(rec[4]), Stage: evidence.Stage(rec[5]),
		Unit: rec[8], Category: rec[9], Cites: rec[10]}
	for w := range strings.FieldsSeq(rec[1]) {
		n, err := strconv.Atoi(w)
		if err != nil {
			return s, err
		}
		s.Pages = append(s.Pages, n)
	}
	for i, to := range []**float64{&s.Low, &s.High} {
		if rec[6+i] == "" {
			continue
		}
		v, err := strconv.ParseFloat(rec[6+i], 64)
		if err != nil {
			return s, err
		}
		*to = &v
	}
	return s, nil
}

// TableScore counts how the rows of an evidence table agree with the
// statements: Said when paper, species, factor, value and bearing agree;
// Sourced when so do a page and whose finding it is; Staged when moreover the
// stage does.
type TableScore struct{ Said, Sourced, Staged Score }

// agreement is one of the three ways in which a row can agree with a statement.
type agreement func(s Statement, r table.Row) bool

// agreements returns those that [TableScore] counts, the weakest first.
func agreements(files map[string]string) (said, sourced, staged agreement) {
	said = func(s Statement, r table.Row) bool {
		c := Claim{Taxon: s.Taxon, Factor: s.Factor, Bearing: s.Bearing, Low: s.Low, High: s.High, Category: s.Category}
		return s.Paper == files[r.Paper] && sameTaxon(s.Taxon, r.Name) && s.Bearing == r.Bearing && sameValue(c, r.Claim)
	}
	sourced = func(s Statement, r table.Row) bool {
		own := s.Cites == ""
		return said(s, r) && own != r.Secondhand && (own || s.Cites == files[r.Echo]) && s.onPage(r)
	}
	staged = func(s Statement, r table.Row) bool {
		return sourced(s, r) && (s.Stage == evidence.StageUnsaid || s.Stage == r.Stage)
	}
	return said, sourced, staged
}

// printed leaves out rows from a word that hides a number, as in [Compare].
func printed(rows []table.Row) []table.Row {
	return slices.DeleteFunc(slices.Clone(rows), func(r table.Row) bool { return r.Implied })
}

// CompareTable matches rows with statements, one to one and as many as can be.
// The rows name papers by keys; files gives the file name of each. Rows from a
// word that hides a number are left out.
func CompareTable(truth []Statement, rows []table.Row, files map[string]string) TableScore {
	rows = printed(rows)
	said, sourced, staged := agreements(files)
	return TableScore{score(truth, rows, said), score(truth, rows, sourced), score(truth, rows, staged)}
}

// Misses lists where rows and statements differ, a line each: what only one of
// the two has, and what both have with another source, page or stage.
func Misses(truth []Statement, rows []table.Row, files map[string]string) (out []string) {
	rows = printed(rows)
	said, sourced, staged := agreements(files)
	for _, level := range []struct {
		name   string
		agrees agreement
	}{{"", staged}, {"stage", sourced}, {"source or page", said}} {
		owner := matched(truth, rows, level.agrees)
		taken := map[int]bool{}
		for j, i := range owner {
			if i < 0 {
				continue
			}
			taken[i] = true
			if level.name != "" {
				out = append(out, fmt.Sprintf("%s: %v is read as %v", level.name, truth[i], told(rows[j], files)))
			}
		}
		truth, rows = without(truth, func(i int) bool { return taken[i] }), without(rows, func(j int) bool { return owner[j] >= 0 })
	}
	for _, s := range truth {
		out = append(out, fmt.Sprintf("missed: %v", s))
	}
	for _, r := range rows {
		out = append(out, fmt.Sprintf("too much: %v by %s on %q", told(r, files), r.Rule, r.Quote))
	}
	return out
}

func without[T any](list []T, drop func(i int) bool) (out []T) {
	for i, v := range list {
		if !drop(i) {
			out = append(out, v)
		}
	}
	return out
}

// told is a row as the statement that it makes.
func told(r table.Row, files map[string]string) Statement {
	s := Statement{Paper: files[r.Paper], Pages: []int{r.Page}, Taxon: r.Name, Factor: r.Factor, Bearing: r.Bearing, Stage: r.Stage,
		Low: r.Low, High: r.High, Unit: r.Unit, Category: r.Category}
	if r.Secondhand {
		s.Cites = cmp.Or(files[r.Echo], "somebody")
	}
	for _, p := range r.Also {
		s.Pages = append(s.Pages, p.Page)
	}
	return s
}

func (s Statement) String() string {
	end := func(v *float64) string {
		if v == nil {
			return ""
		}
		return strconv.FormatFloat(*v, 'g', 5, 64)
	}
	out := fmt.Sprintf("%s %v %s %s %s %s..%s %s %s %s", s.Paper, s.Pages, s.Taxon, s.Factor, s.Bearing, end(s.Low), end(s.High), s.Unit, s.Category, s.Stage)
	if s.Cites != "" {
		out += " of " + s.Cites
	}
	return strings.Join(strings.Fields(out), " ")
}

func (s Statement) onPage(r table.Row) bool {
	return slices.Contains(s.Pages, r.Page) || slices.ContainsFunc(r.Also, func(p table.Place) bool { return slices.Contains(s.Pages, p.Page) })
}

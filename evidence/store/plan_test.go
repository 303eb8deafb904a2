package store

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence"
)

// Every question that a command asks must be answered from an index: the plan
// may scan only what it lists whole.
func TestPlansUseIndexes(t *testing.T) {
	s := open(t, t.TempDir())
	filter := func(f Filter) string {
		q, _, err := f.query()
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	const pageQuery = `SELECT how, why, text, layout FROM pages WHERE paper = (SELECT id FROM papers WHERE key = ?) AND number = ?`
	for _, tt := range []struct {
		name, query string
		want        []string // in the plan
		scans       []string // tables that may be scanned
	}{
		{"taxon", filter(Filter{Taxa: []string{"x"}}), []string{"USING INDEX claims_taxon (taxon=?"}, nil},
		{"taxon and factor", filter(Filter{Taxa: []string{"x"}, Factors: []evidence.Factor{"y"}}), []string{"USING INDEX claims_"}, nil},
		{"factor", filter(Filter{Factors: []evidence.Factor{"y"}}), []string{"USING INDEX claims_factor (factor=?"}, nil},
		{"paper", filter(Filter{Paper: "k"}), []string{"USING INDEX claims_paper (paper=?"}, nil},
		{"page", filter(Filter{Paper: "k", Page: 2}), []string{"USING INDEX claims_paper (paper=? AND page=?"}, nil},
		{"listing", listQuery, []string{"USING COVERING INDEX pages_how (paper=? AND how=?", "USING COVERING INDEX claims_paper (paper=?"}, []string{"p"}},
		{"one listing", oneQuery, []string{"SEARCH p USING INDEX", "(key=?)"}, nil},
		{"names of taxa", taxonNamesQuery, []string{"USING COVERING INDEX claims_taxon (taxon>?)"}, []string{"names"}},
		{"one page", pageQuery, []string{"SEARCH pages USING INDEX", "(paper=? AND number=?)"}, nil},
		{"known file", `SELECT key FROM papers WHERE hash = ?`, []string{"(hash=?)"}, nil},
		{"decisions of a paper", `SELECT * FROM decisions WHERE hash = ? AND latest = 1`, []string{"decisions_hash (hash=? AND latest=?)"}, nil},
		{"decision on a claim", `SELECT * FROM decisions WHERE claim = ? AND hash = ? AND latest = 1`, []string{"USING INDEX decisions_"}, nil},
		{"claims of a removed paper", `DELETE FROM claims WHERE paper = ?`, []string{"INDEX claims_paper (paper=?)"}, nil},
	} {
		plan := explainPlan(t, s, tt.query)
		for _, want := range tt.want {
			if !strings.Contains(plan, want) {
				t.Errorf("%s: the plan lacks %q:\n%s", tt.name, want, plan)
			}
		}
		for line := range strings.Lines(plan) {
			f := strings.Fields(line)
			if len(f) < 2 || f[0] != "SCAN" || f[1] == "json_each" {
				continue
			}
			if !strings.Contains(fmt.Sprint(tt.scans), f[1]) {
				t.Errorf("%s: scans %s:\n%s", tt.name, f[1], plan)
			}
		}
	}
}

func explainPlan(t *testing.T, s *Store, query string) string {
	t.Helper()
	args := make([]any, strings.Count(query, "?"))
	for i := range args {
		args[i] = "[]"
	}
	rows, err := s.file.Read().Query("EXPLAIN QUERY PLAN "+query, args...)
	if err != nil {
		t.Fatalf("%v in %s", err, query)
	}
	defer rows.Close()
	var b strings.Builder
	for rows.Next() {
		var id, parent, unused int
		var detail string
		if err := rows.Scan(&id, &parent, &unused, &detail); err != nil {
			t.Fatal(err)
		}
		b.WriteString(detail + "\n")
	}
	return b.String()
}

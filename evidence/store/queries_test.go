package store

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// scansAllowed names, by function, the tables that its queries go through from
// end to end, since they list or count them whole. Every other query of the
// package finds its rows by an index, however large the library.
var scansAllowed = map[string][]string{
	"Papers":         {"p"},      // lists papers
	"parcelPapers":   {"papers"}, // lists papers
	"Digests":        {"papers"}, // lists papers
	"Authorships":    {"papers"}, // lists papers
	"Counts":         {"papers", "pages", "claims", "decisions"},
	"queryDecisions": {"decisions"}, // lists decisions, of which a keeper makes some thousands in a life
	"IDLength":       {"claims"},    // compares all ids, from their index
	"TaxonNames":     {"names"},     // of its own making, one row a name
	"Faults":         {"d"},         // looks through all
}

// few are the tables in which a keeper has some hundreds of rows in a life.
var few = []string{"lots", "l", "trials", "aliases", "experiments", "e"}

// builtQueries are those that are put together when they are asked, in all
// their forms, by the function that asks.
func builtQueries(t *testing.T) map[string][]string {
	form := func(f Filter) string {
		q, _, err := f.query()
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	return map[string][]string{
		"selectClaims": {form(Filter{Taxa: []string{"x"}}), form(Filter{Paper: "k"}), form(Filter{Paper: "k", Page: 1, Rejected: true})},
		"queryDecisions": {
			"SELECT * FROM decisions WHERE thread IN (SELECT thread FROM decisions WHERE claim = ? UNION SELECT thread FROM decisions WHERE made_on = ?)",
			"SELECT * FROM decisions WHERE latest = 1 AND claim IS NULL AND verdict IN ('accepted', 'amended')",
			"SELECT * FROM decisions WHERE hash = ? AND latest = 1",
		},
		"idsFrom": {
			"SELECT DISTINCT id FROM claims WHERE id >= ? AND id < ? ORDER BY id LIMIT 9",
			"SELECT DISTINCT made_on FROM decisions WHERE made_on >= ? AND made_on < ? ORDER BY made_on LIMIT 9",
		},
	}
}

// asking are the functions that take SQL, with the place of it.
var asking = map[string]int{"QueryContext": 1, "QueryRowContext": 1, "ExecContext": 1, "PrepareContext": 1, "eachRow": 2, "column": 2, "free": 0}

// asked is SQL as a function asks it.
type asked struct {
	function, sql string
	at            token.Position
}

// queriesOf reads the package's source for all SQL that it asks. What cannot
// be told from the source is returned with empty SQL.
func queriesOf(t *testing.T) []asked {
	t.Helper()
	set := token.NewFileSet()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var files []*ast.File
	for _, e := range entries {
		if name := e.Name(); strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") {
			f, err := parser.ParseFile(set, name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, f)
		}
	}
	known := constants(files)
	var out []asked
	for _, f := range files {
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Body == nil {
				continue
			}
			local := maps.Clone(known)
			addLocal(local, fn.Body)
			ast.Inspect(fn.Body, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				name := called(call.Fun)
				at, ok := asking[name]
				if !ok || len(call.Args) <= at {
					return true
				}
				if _, asks := asking[fn.Name.Name]; asks {
					return true // asks what it is given, which is seen where it is given
				}
				for _, sql := range values(local, call.Args[at]) {
					out = append(out, asked{fn.Name.Name, sql, set.Position(call.Pos())})
				}
				return true
			})
		}
	}
	return out
}

// called returns the name of a function that is called, "" for the method of a
// statement, which was told its SQL before.
func called(fun ast.Expr) string {
	switch fun := fun.(type) {
	case *ast.Ident:
		return fun.Name
	case *ast.SelectorExpr:
		if of, ok := fun.X.(*ast.Ident); ok && of.Name == "stmt" {
			return ""
		}
		return fun.Sel.Name
	}
	return ""
}

// constants returns the texts of the package's constants.
func constants(files []*ast.File) map[string][]string {
	known := map[string][]string{}
	for range 3 { // constants of constants
		for _, f := range files {
			for _, d := range f.Decls {
				if g, ok := d.(*ast.GenDecl); ok {
					for _, spec := range g.Specs {
						addSpec(known, spec)
					}
				}
			}
		}
	}
	return known
}

func addSpec(known map[string][]string, spec ast.Spec) {
	v, ok := spec.(*ast.ValueSpec)
	if !ok {
		return
	}
	for i, name := range v.Names {
		if i < len(v.Values) {
			known[name.Name] = values(known, v.Values[i])
		}
	}
}

// addLocal adds the constants of a function and the variables of its loops
// over texts that are written out.
func addLocal(known map[string][]string, body *ast.BlockStmt) {
	ast.Inspect(body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.DeclStmt:
			if g, ok := n.Decl.(*ast.GenDecl); ok && g.Tok == token.CONST {
				for _, spec := range g.Specs {
					addSpec(known, spec)
				}
			}
		case *ast.RangeStmt:
			list, ok := n.X.(*ast.CompositeLit)
			v, named := n.Value.(*ast.Ident)
			if !ok || !named {
				return true
			}
			var all []string
			for _, e := range list.Elts {
				all = append(all, values(known, e)...)
			}
			known[v.Name] = all
		}
		return true
	})
}

// values returns the texts that an expression can be, "" for one that is made
// at run time.
func values(known map[string][]string, e ast.Expr) []string {
	switch e := e.(type) {
	case *ast.BasicLit:
		if s, err := strconv.Unquote(e.Value); err == nil {
			return []string{s}
		}
	case *ast.Ident:
		if v := known[e.Name]; len(v) > 0 {
			return v
		}
	case *ast.ParenExpr:
		return values(known, e.X)
	case *ast.BinaryExpr:
		var out []string
		for _, a := range values(known, e.X) {
			for _, b := range values(known, e.Y) {
				if a == "" || b == "" {
					return []string{""}
				}
				out = append(out, a+b)
			}
		}
		return out
	}
	return []string{""}
}

// Every query that the package asks, all read from its source, finds its rows
// by an index, but for those that list or count a table whole.
func TestEveryQueryUsesIndexes(t *testing.T) {
	s := open(t, t.TempDir())
	built := builtQueries(t)
	seen := 0
	for _, q := range queriesOf(t) {
		if q.sql == "" {
			if _, ok := built[q.function]; !ok {
				t.Errorf("%s: the query of %s is put together when it is asked: enter its forms in builtQueries", q.at, q.function)
			}
			continue
		}
		if head := strings.Fields(q.sql)[0]; head == "PRAGMA" || head == "VACUUM" {
			continue
		}
		seen++
		checkScans(t, s, q)
	}
	for function, list := range built {
		for _, sql := range list {
			seen++
			checkScans(t, s, asked{function: function, sql: sql})
		}
	}
	if seen < 60 {
		t.Errorf("%d queries were seen: the test has lost sight of most", seen)
	}
	t.Logf("%d queries", seen)
}

func checkScans(t *testing.T, s *Store, q asked) {
	t.Helper()
	plan := explainPlan(t, s, q.sql)
	for line := range strings.Lines(plan) {
		f := strings.Fields(line)
		if len(f) < 2 || f[0] != "SCAN" || slices.Contains([]string{"json_each", "CONSTANT"}, f[1]) || strings.HasPrefix(f[1], "pragma_") {
			continue
		}
		if !slices.Contains(few, f[1]) && !slices.Contains(scansAllowed[q.function], f[1]) {
			t.Errorf("%s: %s goes through all of %s:\n%s\n%s", q.at, q.function, f[1], q.sql, plan)
		}
	}
}

// What goes with its owner when that is removed is found by an index.
func TestOwnedRowsHaveIndexes(t *testing.T) {
	s := open(t, t.TempDir())
	rows, err := s.file.Read().Query(`SELECT m.name, f."from" FROM sqlite_schema m, pragma_foreign_key_list(m.name) f WHERE m.type = 'table'`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	n := 0
	for rows.Next() {
		var table, column string
		if err := rows.Scan(&table, &column); err != nil {
			t.Fatal(err)
		}
		n++
		plan := explainPlan(t, s, fmt.Sprintf(`DELETE FROM %s WHERE %s = ?`, table, column))
		if strings.Contains(plan, "SCAN") {
			t.Errorf("%s.%s has no index:\n%s", table, column, plan)
		}
	}
	if n < 5 {
		t.Errorf("%d owned columns were seen", n)
	}
}

package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// floors is the building's plan: a package may import packages of lower
// floors only, so that data flows one way. Packages of one floor do not know
// each other.
var floors = map[string]int{
	"cmd/internal/listing":       0,
	"cmd/internal/stream":        0,
	"cmd/internal/terminal":      0,
	"corpus-sample/surroundings": 0, // imported by tests only
	"evidence/quantity":          0,
	"evidence/rule/lexicon":      0,
	"evidence/stat":              0,
	"evidence/store/disk":        0,
	"evidence/trial/scheme":      0,
	"evidence/water":             0,
	"ingest/charset":             0,
	"ingest/language":            0,
	"ingest/letter":              0,
	"ingest/pdf":                 0,
	"ingest/pdf/pdftest":         0, // imported by tests only
	"ingest/prose":               0,
	"query/index/match":          0,
	"query/index/segment":        0,
	"query/index/stem":           0,
	"species/name":               0,
	"evidence/stat/compare":      1,
	"evidence/stat/linear":       1,
	"evidence/stat/spread":       1,
	"evidence/stat/stattest":     1, // imported by tests only
	"evidence/stat/timecourse":   1,
	"ingest":                     1,
	"ingest/ocr":                 1,
	"ingest/pdf/pdfium":          1,
	"ingest/pdf/second":          1,
	"ingest/reference":           1,
	"query/index/naming":         1,
	"query/index/question":       1,
	"corpus-sample/made":         2, // for tests alone
	"evidence":                   2,
	"evidence/stat/logistic":     2,
	"evidence/stat/pooling":      2,
	"evidence/stat/power":        2,
	"evidence/store/packed":      2,
	"ingest/bibliography":        2,
	"ingest/citation":            2,
	"ingest/heading":             2,
	"ingest/ingesttest":          2, // imported by tests only
	"ingest/number":              2,
	"ingest/pdf/process":         2,
	"query/index/needle":         2,
	"evidence/rule/syntax":       3,
	"evidence/rule/table":        3,
	"evidence/trial":             3,
	"ingest/line":                3,
	"ingest/pdf/process/standin": 3, // imported by tests only
	"ingest/textfile":            3,
	"query/index/book":           3,
	"query/index/passage":        3,
	"species/fulltext":           3,
	"species/taxonomy":           3,
	"species/value":              3,
	"cmd/internal/usage":         4,
	"evidence/rule/marked":       4,
	"evidence/trial/bench":       4,
	"evidence/trial/counts":      4,
	"evidence/trial/factorial":   4,
	"evidence/trial/placing":     4,
	"evidence/trial/verdict":     4,
	"ingest/sheet":               4,
	"species/witness":            4,
	"cmd/internal/waters":        5,
	"evidence/rule/bearing":      5,
	"evidence/trial/caveat":      5,
	"evidence/trial/odds":        5,
	"evidence/trial/outcome":     5,
	"ingest/table":               5,
	"species/conflict":           5,
	"species/pool":               5,
	"species/speciestest":        5, // imported by tests only
	"species/table":              5,
	"evidence/rule":              6,
	"evidence/store":             6,
	"evidence/trial/design":      6,
	"ingest/block":               6,
	"query/index":                6,
	"species/level":              6,
	"species/reason":             6,
	"evidence/trial/trialtest":   7, // imported by tests only
	"ingest/layout":              7,
	"query/web/address":          7,
	"query/web/chart":            7,
	"query/web/literature/sheet": 7,
	"query/web/refuse":           7,
	"query/web/trials/countform": 7,
	"query/web/trials/planform":  7,
	"query/web/words":            7,
	"query/wording":              7,
	"species":                    7,
	"cmd/internal/reader":        8,
	"cmd/internal/trialprint":    8,
	"corpus-sample":              8, // nothing but the command needs the sample
	"query":                      8,
	"query/web/guard":            8,
	"cmd/internal/library":       9,
	"query/web/site":             9,
	"cmd/internal/claim":         10,
	"cmd/internal/lots":          10,
	"cmd/internal/papers":        10,
	"cmd/internal/parcel":        10,
	"cmd/internal/search":        10,
	"cmd/internal/shell":         10,
	"cmd/internal/taxon":         10,
	"cmd/internal/trials":        10,
	"cmd/internal/upkeep":        10,
	"query/web/intake":           10,
	"query/web/literature":       10,
	"query/web/trials":           10,
	"cmd/internal/demo":          11,
	"query/web":                  11,
	"cmd/internal/browse":        12, // nothing but tests
	"cmd/internal/serve":         12,
	"corpus-sample/typeset":      12, // nothing at all needs the program that sets the sample
	"query/web/webtest":          12, // imported by tests only
	"cmd/hatchlore":              13,
}

// outside says which packages may import which outside module. A module that
// is not listed may be imported nowhere.
var outside = map[string][]string{
	"github.com/klippa-app/go-pdfium":        {"ingest/pdf/pdfium"},
	"github.com/tetratelabs/wazero":          {"ingest/pdf/pdfium"},
	"github.com/ledongthuc/pdf":              {"ingest/pdf/second"},
	"golang.org/x/net/html":                  {"query/web", "ingest/textfile"}, // of query/web only the tests
	"gonum.org/v1/gonum":                     {"evidence/stat", "evidence/stat/linear", "evidence/stat/logistic", "evidence/stat/power", "evidence/stat/spread"},
	"github.com/arran4/golang-ical":          {"evidence/trial/bench"},
	"modernc.org/sqlite":                     {"evidence/store/disk"},
	"github.com/blevesearch/bleve":           {"query/index", "query/index/match", "query/index/stem"},
	"github.com/blevesearch/bleve_index_api": {"query/index", "query/index/book", "query/index/match"},
	"go.etcd.io/bbolt":                       {"query/index"},
	"github.com/spf13/cobra":                 commands,
	"github.com/spf13/pflag":                 {"cmd/internal/shell", "cmd/internal/usage"},
	"github.com/mattn/go-runewidth":          {"cmd/internal/terminal"},
	"golang.org/x/term":                      {"cmd/internal/papers", "cmd/internal/terminal"},
	"golang.org/x/text/unicode/norm":         {"ingest/letter"},
	"golang.org/x/sys":                       {"evidence/store/disk"},
}

// commands are the packages that make commands.
var commands = []string{"cmd/hatchlore", "cmd/internal/claim", "cmd/internal/demo", "cmd/internal/lots", "cmd/internal/papers", "cmd/internal/parcel",
	"cmd/internal/search", "cmd/internal/serve", "cmd/internal/shell", "cmd/internal/taxon", "cmd/internal/trials", "cmd/internal/upkeep",
	"cmd/internal/usage", "cmd/internal/waters"}

// testOnly may be imported by any test.
var testOnly = []string{"github.com/rogpeppe/go-internal", "github.com/google/go-cmp", "github.com/chromedp/chromedp", "github.com/chromedp/cdproto"}

func TestFloors(t *testing.T) {
	root := filepath.Join("..", "..")
	b := building{t: t, stands: map[string]bool{}, uses: map[permission]bool{}}
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (strings.HasPrefix(d.Name(), ".") && d.Name() != ".." || d.Name() == "testdata") {
			return filepath.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(file, ".go") {
			return nil
		}
		rel, err := filepath.Rel(root, file)
		if err != nil {
			return err
		}
		b.file(file, path.Dir(filepath.ToSlash(rel)))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	b.nothingIdle()
}

// The table in the contributor's guide has each package on the floor on which it
// stands.
func TestFloorsAreTold(t *testing.T) {
	told := map[string]int{}
	for _, row := range regexp.MustCompile(`(?m)^\| (\d+) \| (.*) \|$`).FindAllStringSubmatch(guideText(t), -1) {
		floor, err := strconv.Atoi(row[1])
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(row[2], -1) {
			told[name[1]] = floor
		}
	}
	if diff := cmp.Diff(floors, told); diff != "" {
		t.Errorf("the table of floors in DEVELOPERS.md says otherwise (-floors +table):\n%s", diff)
	}
}

// building is the tree as it stands, to hold beside the plan.
type building struct {
	t      *testing.T
	stands map[string]bool     // packages
	uses   map[permission]bool // of outside
}

// permission is an outside module in a package.
type permission struct{ module, pkg string }

// file checks the imports of one file of pkg.
func (b building) file(file, pkg string) {
	b.stands[pkg] = true
	if _, ok := floors[pkg]; !ok {
		b.t.Errorf("%s: package %s stands on no floor: give it one in floors", file, pkg)
	}
	src, err := os.ReadFile(file)
	if err != nil {
		b.t.Fatal(err)
	}
	f, err := parser.ParseFile(token.NewFileSet(), file, src, parser.ImportsOnly)
	if err != nil {
		b.t.Fatal(err)
	}
	test := strings.HasSuffix(file, "_test.go")
	for _, spec := range f.Imports {
		imp, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			b.t.Fatal(err)
		}
		own, inside := strings.CutPrefix(imp, "hatchlore/")
		switch {
		case inside && own == pkg: // an external test of its own package
		case inside && floors[own] >= floors[pkg] && !test:
			b.t.Errorf("%s imports %s: floor %d must not import floor %d", pkg, own, floors[pkg], floors[own])
		case !inside && strings.Contains(strings.SplitN(imp, "/", 2)[0], "."):
			if !b.mayImport(pkg, imp, test) {
				b.t.Errorf("%s must not import the outside module %s", pkg, imp)
			}
		}
	}
}

func (b building) mayImport(pkg, imp string, test bool) bool {
	if test && slices.ContainsFunc(testOnly, func(m string) bool { return strings.HasPrefix(imp, m) }) {
		return true
	}
	for m, pkgs := range outside {
		if (imp == m || strings.HasPrefix(imp, m+"/")) && slices.Contains(pkgs, pkg) {
			b.uses[permission{m, pkg}] = true
			return true
		}
	}
	return false
}

// nothingIdle tells what the plan has and the tree has not.
func (b building) nothingIdle() {
	for pkg := range floors {
		if !b.stands[pkg] {
			b.t.Errorf("floors has %s, which is no package", pkg)
		}
	}
	for module, pkgs := range outside {
		for _, pkg := range pkgs {
			if !b.uses[permission{module, pkg}] {
				b.t.Errorf("outside lets %s import %s, which it does not", pkg, module)
			}
		}
	}
}

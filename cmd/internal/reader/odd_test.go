package reader

import (
	"cmp"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hatchlore/corpus-sample/surroundings"
)

// TestOddPapers takes the odd files of PDF readers' test suites the whole way,
// pictures left out: each ends in pages or in a sentence that names it. The table that it logs has a row for each kind of file,
// by what two readers once made of it, and a column for what becomes of it.
func TestOddPapers(t *testing.T) {
	folder := surroundings.Shared(t, "pdf", "odd")
	r := newReader(t, Options{OCR: NoOCR})
	kinds := kindsOf(t, filepath.Join(folder, "LIST.tsv"))
	table := map[string]map[string]int{}
	papers := slices.DeleteFunc(Find([]string{folder}), func(f Found) bool { return f.Kind != Paper || formatOf(f.Path) != "pdf" })
	i := 0
	for x := range r.ReadAll(t.Context(), papers) {
		path := papers[i].Path
		i++
		kind := cmp.Or(kinds[filepath.Base(path)], "not listed")
		if table[kind] == nil {
			table[kind] = map[string]int{}
		}
		table[kind][outcomeOf(t, path, x)]++
	}
	for _, kind := range slices.Sorted(maps.Keys(table)) {
		for _, what := range slices.Sorted(maps.Keys(table[kind])) {
			t.Logf("%-24s %4d  %s", kind, table[kind][what], what)
		}
	}
}

// outcomeOf says in a few words what became of a file.
func outcomeOf(t *testing.T, path string, x Result) string {
	t.Helper()
	name := filepath.Base(path)
	if x.Err != nil {
		why, named := strings.CutPrefix(x.Err.Error(), path+" ")
		if !named || why == "" {
			t.Errorf("%s: the error does not name it: %v", name, x.Err)
		}
		return "refused: it " + why
	}
	pages := x.Reading.Document.Pages
	if len(pages) == 0 {
		t.Errorf("%s has neither pages nor an error", name)
	}
	unread := 0
	for _, p := range pages {
		if p.How == "unread" {
			unread++
			if p.Why == "" {
				t.Errorf("%s: page %d is unread without a reason", name, p.Number)
			}
		}
	}
	switch {
	case unread == 0:
		return "read by " + x.Reading.Engine
	case unread == len(pages):
		return "unread: " + pages[0].Why
	}
	return "read but for some pages"
}

// kindsOf reads the list of odd files: its name, and in the last column what
// two readers made of it.
func kindsOf(t *testing.T, path string) map[string]string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]string{}
	for line := range strings.Lines(string(data)) {
		cells := strings.Split(strings.TrimSpace(line), "\t")
		kinds[cells[0]] = cells[len(cells)-1]
	}
	return kinds
}

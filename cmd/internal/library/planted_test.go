package library

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hatchlore/corpus-sample/made"
	"hatchlore/evidence/store"
	"hatchlore/query"
)

func writeCorpus(tb testing.TB, c *made.Corpus, dir string, pages int) (bytes int) {
	tb.Helper()
	for n := range pages / made.PagesAPaper {
		p := c.Paper(n)
		text := p.Text()
		bytes += len(text)
		name := fileOf(dir, n)
		if n%1000 == 0 {
			if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
				tb.Fatal(err)
			}
		}
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			tb.Fatal(err)
		}
	}
	return bytes
}

// fileOf names the file of a paper: a thousand to a folder.
func fileOf(dir string, n int) string {
	return filepath.Join(dir, fmt.Sprintf("%03d", n/1000), fmt.Sprintf("made%06d.txt", n))
}

func putSynonyms(tb testing.TB, l *Library) {
	tb.Helper()
	for _, s := range made.Synonyms() {
		if err := l.Store().SetAlias(context.Background(), store.Alias{Old: s.Old, New: s.New, Reason: "planted"}); err != nil {
			tb.Fatal(err)
		}
	}
}

// A search for a genus finds every page that names one of its species, whole,
// abbreviated or under an older name, and next to nothing else: genera with
// the same letter and species with the same epithet are many in the made
// papers.
func TestGenusFindsPlantedNames(t *testing.T) {
	const papers = 60
	dir := t.TempDir()
	corpus := made.New(7)
	writeCorpus(t, corpus, filepath.Join(dir, "papers"), papers*made.PagesAPaper)
	if err := ingestInto(t.Context(), filepath.Join(dir, "library"), filepath.Join(dir, "papers"), func(o Outcome) {
		if o.State != Added {
			t.Fatalf("%+v", o)
		}
	}); err != nil {
		t.Fatal(err)
	}
	l := open(t, filepath.Join(dir, "library"))
	putSynonyms(t, l)
	var total tally
	for _, genus := range made.Genera() {
		total = total.plus(t, l, corpus, papers, genus)
	}
	t.Logf("%d planted pages, %d found; %d pages found in all, of which %d name the genus, %d are of a paper that has it in its title, and %d bear a claim that was read as being about it",
		total.planted, total.hit, total.found, total.naming, total.titled, total.claimed)
	if total.planted < 250 || total.hit != total.planted {
		t.Errorf("%d of %d planted pages are found", total.hit, total.planted)
	}
	if wrong := total.found - total.naming - total.titled - total.claimed; wrong > 0 {
		t.Errorf("%d of %d pages found have nothing of the genus", wrong, total.found)
	}
}

// tally counts pages.
type tally struct{ planted, hit, found, naming, titled, claimed int }

func (n tally) plus(t *testing.T, l *Library, corpus *made.Corpus, papers int, genus string) tally {
	t.Helper()
	answers, err := l.Searching(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	claimed := pagesWithClaims(t, l, genus)
	hits, err := answers.Search(t.Context(), query.Search{Words: genus, Limit: 10 * papers})
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, h := range hits {
		found[place(h.Source, h.Page)] = true
	}
	n.found += len(found)
	for i := range papers {
		p := corpus.Paper(i)
		named := map[int]bool{}
		for _, page := range p.Mentioned(genus) {
			named[page] = true
		}
		for page := 1; page <= made.PagesAPaper; page++ {
			at := place(fileOf("", i), page)
			hit := found[at]
			switch {
			case named[page]:
				n.planted++
				if hit {
					n.hit++
					n.naming++
				} else {
					t.Errorf("%s: paper %d, page %d is not found: %v", genus, i, page, p.Pages[page-1].Mentions)
				}
			case hit && strings.HasPrefix(made.Animal(i), genus+" "):
				n.titled++
			case hit && claimed[at]:
				n.claimed++
			case hit:
				t.Errorf("%s: paper %d, page %d has nothing of it", genus, i, page)
			}
		}
	}
	return n
}

func place(source string, page int) string { return fmt.Sprintf("%s#%d", filepath.Base(source), page) }

// pagesWithClaims returns the pages with a claim on a species of the genus: in
// made prose a claim may take its animal from the page before.
func pagesWithClaims(t *testing.T, l *Library, genus string) map[string]bool {
	t.Helper()
	claims, err := l.Store().Claims(t.Context(), store.Filter{})
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, c := range claims {
		if strings.HasPrefix(c.Taxon, genus+" ") {
			out[place(c.Source, c.Page)] = true
		}
	}
	return out
}

package reader

import (
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"hatchlore/corpus-sample/surroundings"
	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/ingest/citation"
)

// listed is a document of one page of text and a list of references behind it.
// All works are invented.
func listed(text string, entries ...string) *ingest.Document {
	first := ingest.Page{Number: 1, Text: text, Blocks: []ingest.Block{{Kind: ingest.Paragraph, Section: ingest.SectionDiscussion, Start: 0, End: len(text)}}}
	page := ingest.Page{Number: 2, Text: "References\n\n"}
	for _, e := range entries {
		at := len(page.Text)
		page.Text += e + "\n\n"
		page.Blocks = append(page.Blocks, ingest.Block{Kind: ingest.Reference, Section: ingest.SectionReferences, Start: at, End: at + len(e)})
	}
	return &ingest.Document{Pages: []ingest.Page{first, page}}
}

// citedOf returns what a claim that cites printed keeps: its citation and the
// first words of its entries.
func citedOf(doc *ingest.Document, printed string) (string, string) {
	c := evidence.Claim{Page: 1, Secondhand: printed != "", Cited: printed}
	if i := strings.Index(doc.Pages[0].Text, printed); i >= 0 {
		c.Start = utf8.RuneCountInString(doc.Pages[0].Text[:i])
	}
	claims := []evidence.Claim{c}
	citeEntries(doc, claims)
	var out []string
	for _, e := range claims[0].Entries {
		b, err := e.MarshalText()
		if err != nil {
			return "", err.Error()
		}
		out = append(out, strings.Join(strings.Fields(string(b))[:2], " "))
	}
	return claims[0].Cited, strings.Join(out, " ")
}

// TestNumberedEntries: whom a bracketed number means is told by the list of
// references, so that the paper is found when the library has it.
func TestNumberedEntries(t *testing.T) {
	doc := listed("",
		"1. Haldon, P. Q. (1962) On the hatching of winter eggs. Notes 9, 117–119.",
		"2. Thorn, E., Birk, A. (1974) Drought and winter. Insects 6, 211.",
		"3. Moor, J., Hallow, K., Lind, R. (1990a) Cold and eggs. Insects 7, 12–19.",
	)
	for _, c := range []struct{ printed, want, entries string }{
		{"[1]", "Haldon 1962 [1]", "1: 1."},
		{"[2, 3]", "Thorn & Birk 1974; Moor et al. 1990a [2, 3]", "2: 2. 3: 3."},
		{"[1–3]", "Haldon 1962; Thorn & Birk 1974; Moor et al. 1990a [1–3]", "1: 1. 2: 2. 3: 3."},
		{"[9]", "[9]", ""},
		{"(Haldon 1962)", "(Haldon 1962)", "1: 1."},
		{"", "", ""},
	} {
		if cited, entries := citedOf(doc, c.printed); cited != c.want || entries != c.entries {
			t.Errorf("%q: got %q and %q, want %q and %q", c.printed, cited, entries, c.want, c.entries)
		}
	}
}

// TestAuthorYearEntries: an author and year mean the entry with both, in six
// languages, letters and all; where two entries could be meant, none is.
func TestAuthorYearEntries(t *testing.T) {
	doc := listed("Eggs hatched at 5 °C (Hällow 1988a). Moor saw the same (Moor, loc. cit.). So it was in mud (Birk & Moor 1990). Others agree (ibid.). And again (Hallow, op. cit.).",
		"Birk, A. & Moor, P. 1990. Eggs in wet mud. Pool Letters 3: 5–9.",
		"Hällow, J. 1988a. Cold eggs. Pool Letters 1: 1–4.",
		"Hällow, J. 1988b. Warm eggs. Pool Letters 1: 5–8.",
		"Lind, R., Hallow, J. & Moor, P. 1991. Three waters. Pool Letters 4: 1–4.",
		"Quill, A. 1985. Salt. Pool Letters 0: 1–4.",
		"Quill, B. 1985. Lime. Pool Letters 0: 5–8.",
		"van der Moor, P. 1970. Long ago. Pool Letters 0: 9–12.",
	)
	for printed, want := range map[string]string{
		"(Birk & Moor 1990)":                       "1: Birk,",
		"Birk and Moor (1990)":                     "1: Birk,",
		"(Birk y Moor, 1990)":                      "1: Birk,",
		"(Birk et Moor 1990)":                      "1: Birk,",
		"(Birk und Moor 1990)":                     "1: Birk,",
		"(Birk u. Moor 1990)":                      "1: Birk,",
		"(Birk e Moor 1990)":                       "1: Birk,",
		"(Hallow 1988a)":                           "2: Hällow,",
		"(Haellow 1988b)":                          "3: Hällow,",
		"(Hällow 1988a, b)":                        "2: Hällow, 3: Hällow,",
		"(Hällow 1988)":                            "", // a or b
		"(Lind et al. 1991)":                       "4: Lind,",
		"(Lind y cols. 1991; Birk & Moor 1990)":    "4: Lind, 1: Birk,",
		"(Lind 1991)":                              "4: Lind,", // careless, and plain
		"(Lind & Quill 1991)":                      "",
		"(Quill 1985)":                             "", // A. or B.
		"(van der Moor 1970)":                      "7: van",
		"(Moor 1970)":                              "7: van",
		"(Moor 1971)":                              "",
		"(K. Lind, pers. comm.)":                   "",
		"(ibid.)":                                  "1: Birk,",
		"(Hallow, op. cit.)":                       "2: Hällow,",
		"(Moor, loc. cit.)":                        "", // nobody of that name was cited before
		"see Birk & Moor (1990) and Quill, so far": "1: Birk,",
	} {
		if _, got := citedOf(doc, printed); got != want {
			t.Errorf("%q: got %q, want %q", printed, got, want)
		}
	}
}

// TestRunningHeadsCiteNothing: "ibid." means what the text cited last, not the
// journal and year at the edge of the page.
func TestRunningHeadsCiteNothing(t *testing.T) {
	text := "Eggs hatched in mud (Birk & Moor 1990). "
	doc := listed(text+"Pool Letters (2020) others agree (ibid.).", "Birk, A. & Moor, P. 1990. Eggs in wet mud. Pool Letters 3: 5–9.")
	head := len(text) + len("Pool Letters (2020)")
	block := doc.Pages[0].Blocks[0]
	doc.Pages[0].Blocks = []ingest.Block{block, block}
	doc.Pages[0].Blocks[0].End, doc.Pages[0].Blocks[1].Start = len(text), head
	if _, got := citedOf(doc, "(ibid.)"); got != "1: Birk," {
		t.Errorf("got %q", got)
	}
}

// TestEntriesOfArticles: of what printed articles cite, nearly all is found in
// their own lists.
func TestEntriesOfArticles(t *testing.T) {
	if testing.Short() {
		t.Skip("reading articles takes seconds")
	}
	articles, err := filepath.Glob(filepath.Join(surroundings.Shared(t, "pdf", "articles"), "a*.pdf"))
	if err != nil || len(articles) == 0 {
		t.Fatalf("no articles: %v", err)
	}
	r := newReader(t, Options{OCR: NoOCR})
	found, all := 0, 0
	for _, path := range articles {
		reading, err := r.Read(t.Context(), path)
		if err != nil {
			t.Fatal(err)
		}
		list := citation.ReadList(referencesOf(reading.Document))
		mine, cited := 0, 0
		for _, p := range reading.Document.Pages {
			for _, m := range citation.Mentions(body(p)) {
				if m.Personal || m.Authority || m.Back {
					continue
				}
				cited++
				if len(list.Find(m)) > 0 {
					mine++
				}
			}
		}
		t.Logf("%s: %d of %d citations", filepath.Base(path), mine, cited)
		found, all = found+mine, all+cited
	}
	t.Logf("all: %d of %d, %.3f", found, all, float64(found)/float64(all))
	if float64(found) < 0.97*float64(all) {
		t.Errorf("%d of %d citations find their entry, under 0.97", found, all)
	}
}

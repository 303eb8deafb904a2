package index

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hatchlore/ingest"
	"hatchlore/query/index/passage"
	"hatchlore/query/index/question"
)

var ctx = context.Background()

// part is a stretch of a test page in one section.
type part struct {
	section ingest.Section
	text    string
}

func pageOf(n int, parts ...part) Page {
	p := Page{Page: ingest.Page{Number: n, How: ingest.ByText}}
	for _, x := range parts {
		start := len(p.Text)
		p.Text += x.text + "\n"
		p.Blocks = append(p.Blocks, ingest.Block{Kind: ingest.Paragraph, Section: x.section, Start: start, End: start + len(x.text)})
	}
	return p
}

func results(n int, text string) Page { return pageOf(n, part{ingest.SectionResults, text}) }

func fill(t *testing.T, papers ...Paper) *Index {
	t.Helper()
	ix, err := Create(filepath.Join(t.TempDir(), DirName))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { ix.Close() })
	if err := ix.Put(ctx, papers...); err != nil {
		t.Fatal(err)
	}
	if err := ix.Flush(ctx); err != nil {
		t.Fatal(err)
	}
	return ix
}

func ask(t *testing.T, ix *Index, q Query) []string {
	t.Helper()
	hits, err := ix.Search(ctx, q)
	if err != nil {
		t.Fatalf("%q: %v", q.Words, err)
	}
	var out []string
	for _, h := range hits {
		out = append(out, fmt.Sprintf("%s#%d", h.Paper, h.Page))
	}
	return out
}

// invented is a small library in six languages.
func invented() []Paper {
	return []Paper{
		{Key: "en", Stamp: "1", Title: "Diapause of an invented shrimp", Authors: []string{"Alderfén, Jo", "Birch, Ann"}, Year: 1990, Lang: "en", Pages: []Page{
			{Page: results(1, "The cysts of Branchinella ficta hatched after drying for 14 days at 15.5 °C.").Page, Factors: []string{"drying"}, Taxa: []string{"Branchinella ficta"}},
			{Page: results(2, "Eggs of B. ficta need a cold period before they hatch; pre-hatch stages were frozen.").Page, Factors: []string{"freezing"}, Taxa: []string{"Branchinella ficta"}},
			pageOf(3, part{ingest.SectionDiscussion, "Nothing was said of dry ice."}, part{ingest.SectionReferences, "Ficta, A. 1950. On drying and the hatching of cysts."}),
		}},
		{Key: "de", Stamp: "1", Title: "Dauereier", Year: 2001, Lang: "de", Pages: []Page{results(1, "Die Dauereier schlüpften nach langer Kälteperiode; die Größe der Eier war gleich.")}},
		{Key: "fr", Stamp: "1", Year: 2002, Lang: "fr", Pages: []Page{results(1, "Les œufs séchés ont éclos après l'incubation à 0,5 g/L.")}},
		{Key: "es", Stamp: "1", Year: 2003, Lang: "es", Pages: []Page{results(1, "La incubación de los quistes secos y las incubaciones largas.")}},
		{Key: "it", Stamp: "1", Year: 2004, Lang: "it", Pages: []Page{results(1, "Le uova essiccate si schiudono dopo l'inondazione.")}},
		{Key: "pt", Stamp: "1", Year: 2005, Lang: "pt", Pages: []Page{results(1, "Os cistos secos eclodiram após a inundação.")}},
	}
}

func TestSearch(t *testing.T) {
	ix := fill(t, invented()...)
	for _, tt := range []struct {
		name string
		q    Query
		want []string // in any order
	}{
		{"stem", Query{Words: "hatching"}, []string{"en#1", "en#2", "en#3"}},
		{"both words", Query{Words: "cyst dried"}, []string{"en#1", "en#3"}},
		{"phrase", Query{Words: `"cold period"`}, []string{"en#2"}},
		{"words of a phrase in the wrong order", Query{Words: `"period cold"`}, nil},
		{"phrase over a stop word", Query{Words: `"need a cold"`}, []string{"en#2"}},
		{"no phrase over the end of a section", Query{Words: `"ice Ficta"`}, nil},
		{"joined by a sign", Query{Words: "pre-hatch"}, []string{"en#2"}},
		{"without", Query{Words: "hatch -frozen"}, []string{"en#1", "en#3"}},
		{"without a phrase", Query{Words: `dry -"dry ice"`}, []string{"en#1"}},
		{"either", Query{Words: "frozen | dried"}, []string{"en#1", "en#2", "en#3"}},
		{"stop words need not be there", Query{Words: "the hatching"}, []string{"en#1", "en#2", "en#3"}},
		{"decimal point", Query{Words: "15.5"}, []string{"en#1"}},
		{"decimal comma", Query{Words: "15,5"}, []string{"en#1"}},
		{"accents typed", Query{Words: "séché"}, []string{"fr#1"}},
		{"accents left out", Query{Words: "seche oeuf"}, []string{"fr#1"}},
		{"elision, and a stem that two languages share", Query{Words: "incubation"}, []string{"fr#1", "es#1"}},
		{"comma in French", Query{Words: "0.5"}, []string{"fr#1"}},
		{"German umlaut", Query{Words: "schlüpft"}, []string{"de#1"}},
		{"German without umlaut", Query{Words: "grosse eier"}, []string{"de#1"}},
		{"Spanish", Query{Words: "incubacion"}, []string{"es#1"}},
		{"Spanish plural", Query{Words: "quiste incubaciones"}, []string{"es#1"}},
		{"Italian", Query{Words: "uovo|uova schiudono"}, []string{"it#1"}},
		{"Portuguese", Query{Words: "cisto inundacao"}, []string{"pt#1"}},
		{"title", Query{Words: "diapause frozen"}, []string{"en#2"}},
		{"authors and year", Query{Words: "alderfen 1990 frozen"}, []string{"en#2"}},
		{"authors, not side by side", Query{Words: `"Jo Birch"`}, nil},
		{"an author left out, who is no word of the page", Query{Words: "frozen -birch"}, []string{"en#2"}},
		{"taxon of a claim", Query{Words: "Branchinella cold"}, []string{"en#2"}},
		{"other names", Query{Words: "Branchinella", Same: same(map[string][]string{"branchinella": {"Dauereier"}})}, []string{"en#1", "en#2", "de#1"}},
		{"name of two words", Query{Words: "cold Thamnus novus", Same: same(map[string][]string{"thamnus novus": {"Branchinella ficta"}})}, []string{"en#2"}},
		{"years", Query{Words: "seco|secos", From: 2004}, []string{"pt#1"}},
		{"years, both ends", Query{Words: "seco|hatch", From: 1990, To: 2003}, []string{"en#1", "en#2", "en#3", "es#1"}},
		{"factor", Query{Words: "hatch", Factor: "freezing"}, []string{"en#2"}},
		{"paper", Query{Words: "seco", Paper: "es"}, []string{"es#1"}},
		{"section", Query{Words: "cyst", Section: ingest.SectionReferences}, []string{"en#3"}},
		{"a common word beside one in a section", Query{Words: "the cyst", Section: ingest.SectionReferences}, []string{"en#3"}},
		{"a page", Query{Words: "hatch", Paper: "en", Page: 2}, []string{"en#2"}},
		{"below zero", Query{Words: "-15.5 °C"}, []string{"en#1"}},
		{"marks of print", Query{Words: "“cold period” –drying"}, []string{"en#2"}},
		{"section without the word", Query{Words: "cold", Section: ingest.SectionMethods}, nil},
	} {
		got := ask(t, ix, tt.q)
		slices.Sort(got)
		slices.Sort(tt.want)
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %q found %v, want %v", tt.name, tt.q.Words, got, tt.want)
		}
	}
}

// same makes the other names of a query from a list.
func same(list map[string][]string) func(string) []string {
	return func(name string) []string { return list[name] }
}

// named puts the names that a page means, in turn, on the short names in its
// text.
func named(p Page, full ...string) Page {
	at := 0
	for _, f := range full {
		i := strings.Index(p.Text[at:], f[:1]+". ")
		p.Names = append(p.Names, Name{Full: f, Start: at + i})
		at += i + 1
	}
	return p
}

// A genus finds its short names where the page means it, and no other's.
func TestSearchByName(t *testing.T) {
	ix := fill(t,
		Paper{Key: "caris", Lang: "en", Pages: []Page{
			named(results(1, "Cysts of F. umbrosa and of F. nivalis."), "Fictocaris umbrosa", "Fictocaris nivalis"),
			{Page: results(2, "Fictocaris is a genus, and umbrosa an epithet.").Page, Names: []Name{{"Fictocaris", 0}}},
			named(pageOf(3, part{ingest.SectionReferences, "On F. nivalis. Journal 3."}), "Fictocaris nivalis"),
		}},
		Paper{Key: "lepis", Lang: "en", Pages: []Page{named(results(1, "Cysts of F. umbrosa of another genus."), "Fabulolepis umbrosa")}},
		Paper{Key: "nobody", Lang: "en", Pages: []Page{results(1, "Cysts of F. umbrosa, whatever it is, by F. Umbrosa and F. 1998.")}},
		Paper{Key: "sub", Lang: "en", Pages: []Page{named(results(1, "Cysts of F. umbrosa minor."), "Fictocaris umbrosa minor")}},
		Paper{Key: "near", Lang: "en", Pages: []Page{named(results(1, "Cysts of F. cf. umbrosa."), "Fictocaris cf. umbrosa")}},
		Paper{Key: "old", Lang: "en", Pages: []Page{named(results(1, "Cysts of P. umbrosus."), "Priscocaris umbrosus")}},
	)
	old := same(map[string][]string{
		"fictocaris": {"Priscocaris umbrosus"}, "fictocaris umbrosa": {"Priscocaris umbrosus"}, "priscocaris umbrosus": {"Fictocaris umbrosa"},
	})
	for _, tt := range []struct {
		words   string
		section ingest.Section
		want    []string
	}{
		{"Fictocaris", "", []string{"caris#1", "caris#2", "caris#3", "near#1", "nobody#1", "old#1", "sub#1"}},
		{"fictocaris umbrosa", "", []string{"caris#1", "nobody#1", "old#1", "sub#1"}},
		{"cysts FICTOCARIS NIVALIS", "", []string{"caris#1"}},
		{"Fictocaris nivalis", ingest.SectionReferences, []string{"caris#3"}},
		{"Fictocaris nivalis", ingest.SectionResults, []string{"caris#1"}},
		{"Fabulolepis", "", []string{"lepis#1", "nobody#1"}},
		{"P. umbrosus", "", []string{"caris#1", "nobody#1", "old#1", "sub#1"}},
		{`"F. umbrosa"`, "", []string{"caris#1", "lepis#1", "nobody#1", "sub#1"}},
		{"F. umbrosa", "", []string{"caris#1", "lepis#1", "nobody#1", "old#1", "sub#1"}},
		{"f umbrosa", "", []string{"caris#1", "lepis#1", "nobody#1", "old#1", "sub#1"}},
		{"F.umbrosa", "", []string{"caris#1", "lepis#1", "nobody#1", "old#1", "sub#1"}},
		{"cysts -Fictocaris", "", []string{"lepis#1"}},
		{"Fictocaris|Fabulolepis genus", "", []string{"caris#2", "lepis#1"}},
		{"Fict", "", nil},
	} {
		got := ask(t, ix, Query{Words: tt.words, Section: tt.section, Same: old})
		slices.Sort(got)
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s in %q: found %v, want %v", tt.words, tt.section, got, tt.want)
		}
	}
	hits, err := ix.Search(ctx, Query{Words: "Fictocaris", Same: old})
	if err != nil {
		t.Fatal(err)
	}
	if last := hits[len(hits)-1]; last.Page != 3 {
		t.Errorf("the reference list does not come last: %+v", hits)
	}
	for _, h := range hits {
		if len(h.Snippet.Marks) == 0 {
			t.Errorf("no mark on %s, p. %d", h.Paper, h.Page)
		}
	}
}

func TestSearchRefuses(t *testing.T) {
	ix := fill(t, invented()[:1]...)
	for words, want := range map[string]error{"": question.ErrNothing, "-frozen": question.ErrNothing, "the of": ErrCommon, `" "`: question.ErrNothing} {
		if _, err := ix.Search(ctx, Query{Words: words}); err == nil || !strings.Contains(err.Error(), want.Error()) {
			t.Errorf("%q: error %v, want %v", words, err, want)
		}
	}
}

func TestRanking(t *testing.T) {
	filler := strings.Repeat(" pond water was clear and warm", 10)
	page := func(n int, s ingest.Section) Page {
		return pageOf(n, part{s, "Drying of the eggs for months." + filler}, part{ingest.SectionOther, filler})
	}
	ix := fill(t, Paper{Key: "p", Lang: "en", Pages: []Page{
		page(1, ingest.SectionReferences), page(2, ingest.SectionIntroduction), page(3, ingest.SectionResults),
		pageOf(4, part{ingest.SectionOther, filler + filler}),
	}})
	if got, want := ask(t, ix, Query{Words: "drying eggs"}), []string{"p#3", "p#2", "p#1"}; !slices.Equal(got, want) {
		t.Errorf("order %v, want %v", got, want)
	}
	// A page that has a word in its references too is no better for it by much.
	ix = fill(t, Paper{Key: "p", Lang: "en", Pages: []Page{
		pageOf(1, part{ingest.SectionIntroduction, "drying" + filler}, part{ingest.SectionReferences, "drying" + filler}),
		pageOf(2, part{ingest.SectionMethods, "drying" + filler}, part{ingest.SectionReferences, "nothing" + filler}),
		pageOf(3, part{ingest.SectionMethods, "none" + filler}, part{ingest.SectionReferences, "nothing" + filler}),
	}})
	if got, want := ask(t, ix, Query{Words: "drying"}), []string{"p#2", "p#1"}; !slices.Equal(got, want) {
		t.Errorf("order %v, want %v", got, want)
	}
}

// A figure beside its unit comes before the two apart, however the unit was typed.
func TestFiguresWithUnits(t *testing.T) {
	ix := fill(t, Paper{Key: "p", Lang: "en", Pages: []Page{
		results(1, "Eggs lay for 15 days at 4 °C, and for 15 more at 4 °C, in water of 60 µS/cm and pH 5; 7 of them hatched, 7 did not."),
		results(2, "After a winter at 1,200 m in mud eggs hatched at 15 °C in water of pH 7, on day 4 or 60, whatever its conductivity in μS/cm. Nothing was said of the fen."),
	}})
	for words, want := range map[string]string{"15 °C": "p#2", "pH 7": "p#2", "60 uS/cm": "p#1", "60 µS/cm": "p#1", "15 days": "p#1", "1200 m": "p#2", "1.200": "p#2"} {
		if got := ask(t, ix, Query{Words: words}); len(got) == 0 || got[0] != want {
			t.Errorf("%s: %v, want %s first", words, got, want)
		}
	}
}

// A name weighs the same in every language, however few papers are in it: a page that
// tells of the animal comes before a reference list that has it.
func TestNamesInAllLanguages(t *testing.T) {
	// Of its two n the French stem has one.
	paper := func(key, lang string) Paper {
		told := results(1, "Eggs of Fennocaris umbrosa hatched. Fennocaris umbrosa lays few.")
		told.Names = []Name{{"Fennocaris umbrosa", 8}, {"Fennocaris umbrosa", 36}}
		cited := pageOf(2, part{ingest.SectionReferences, "On Fennocaris umbrosa."})
		cited.Names = []Name{{"Fennocaris umbrosa", 3}}
		return Paper{Key: key, Lang: lang, Title: "On Fennocaris umbrosa", Pages: []Page{told, cited, results(3, "Ponds dry up in summer, and their mud cracks.")}}
	}
	papers := []Paper{paper("fr", "fr")}
	for n := range 30 {
		papers = append(papers, paper(fmt.Sprintf("en%d", n), "en"))
	}
	ix := fill(t, papers...)
	for _, words := range []string{"Fennocaris umbrosa", "Fennocaris", "F. umbrosa"} {
		got := ask(t, ix, Query{Words: words, Limit: 100})
		if len(got) != 93 || slices.ContainsFunc(got[:31], func(p string) bool { return !strings.HasSuffix(p, "#1") }) {
			t.Errorf("%s: %v, want the pages that tell of it first", words, got)
		}
	}
}

// A name and a year find the paper itself before those that cite it.
func TestAuthorsBeforeCitations(t *testing.T) {
	papers := []Paper{{Key: "own", Lang: "en", Authors: []string{"Alder, Jo"}, Year: 1960, Pages: []Page{results(1, "Eggs hatched in the moss of the fen after some time."), results(2, "None hatched.")}}}
	for n := range 6 {
		papers = append(papers, Paper{Key: fmt.Sprintf("p%d", n), Lang: "en", Authors: []string{"Birch, Ann"}, Year: 1970 + n, Pages: []Page{results(1, "As Alder (1960) found, eggs hatched.")}})
	}
	if got := ask(t, fill(t, papers...), Query{Words: "Alder 1960"}); len(got) != 8 || got[0] != "own#1" || got[1] != "own#2" {
		t.Errorf("%v, want the paper itself first", got)
	}
}

// A page that comes back to an animal tells of it.
func TestNamesThatComeOften(t *testing.T) {
	page := func(n, times int) Page {
		p := Page{Page: results(n, strings.Repeat("Eggs of Ficta umbrosa. ", times)+strings.Repeat("Eggs of Ficta alba. ", 5-times)).Page}
		for i := range times {
			p.Names = append(p.Names, Name{"Ficta umbrosa", 23*i + 8})
		}
		for i := range 5 - times {
			p.Names = append(p.Names, Name{"Ficta alba", 23*times + 20*i + 8})
		}
		return p
	}
	ix := fill(t, Paper{Key: "p", Lang: "en", Pages: []Page{page(1, 1), page(2, 4), page(3, 2)}})
	for words, want := range map[string]string{"Ficta umbrosa": "p#2", "Ficta alba": "p#1"} {
		if got := ask(t, ix, Query{Words: words}); len(got) != 3 || got[0] != want {
			t.Errorf("%s: %v, want %s first", words, got, want)
		}
	}
}

// Where no page has all, those with the most are found, with what they lack; and what
// no page has is known.
func TestMost(t *testing.T) {
	ix := fill(t, invented()...)
	for _, tt := range []struct{ words, found, lacks, absent string }{
		{"cold frozen Dauereier", "en#2", "Dauereier", ""},
		{"the frozen unheard", "en#2", "unheard", "unheard"},
		{"frozen unheard -cold", "", "", "unheard"},
		{`"frozen cold" unheard`, "", "", `"frozen cold" unheard`},
		{"15.5 unheard", "en#1", "unheard", "unheard"},
	} {
		hits, err := ix.Search(ctx, Query{Words: tt.words, Most: true})
		if err != nil {
			t.Fatal(err)
		}
		var found, lacks []string
		for _, h := range hits {
			found, lacks = append(found, fmt.Sprintf("%s#%d", h.Paper, h.Page)), h.Lacks
		}
		absent, err := ix.Absent(ctx, Query{Words: tt.words})
		if err != nil || strings.Join(found, " ") != tt.found || strings.Join(lacks, " ") != tt.lacks || strings.Join(absent, " ") != tt.absent {
			t.Errorf("%s: found %v lacking %v, absent %v, %v", tt.words, found, lacks, absent, err)
		}
	}
}

func TestSnippet(t *testing.T) {
	long := strings.Repeat("Water stood for weeks in the öffentliche pool. ", 40)
	text := long + "Cysts of the shrimp\nhatched after drying; drying for 14 days. " + long
	ix := fill(t, Paper{Key: "p", Lang: "en", Pages: []Page{results(1, text)}})
	hits, err := ix.Search(ctx, Query{Words: `"shrimp hatched" dry`})
	if err != nil || len(hits) != 1 {
		t.Fatalf("%v %v", hits, err)
	}
	s := hits[0].Snippet
	var marked []string
	for _, m := range s.Marks {
		marked = append(marked, s.Text[m.Start:m.End])
	}
	if want := []string{"shrimp hatched", "drying", "drying"}; !slices.Equal(marked, want) {
		t.Errorf("marked %q, want %q", marked, want)
	}
	if len(s.Text) > passage.Size || strings.ReplaceAll(text[s.Start:s.Start+len(s.Text)], "\n", " ") != s.Text {
		t.Errorf("the snippet is not the page's text: %q", s.Text)
	}
	if s.Section != ingest.SectionResults {
		t.Errorf("section %q", s.Section)
	}
}

func TestPutAgainAndRemove(t *testing.T) {
	ix := fill(t, invented()...)
	if n, err := ix.Pages(); n != 8 || err != nil {
		t.Errorf("%d pages %v, want 8", n, err)
	}
	short := invented()[0]
	short.Pages, short.Stamp = short.Pages[1:2], "2"
	if err := ix.Put(ctx, invented()[0], short); err != nil {
		t.Fatal(err)
	}
	if err := ix.Flush(ctx); err != nil {
		t.Fatal(err)
	}
	if got := ask(t, ix, Query{Words: "hatch"}); !slices.Equal(got, []string{"en#2"}) {
		t.Errorf("after a new reading: %v", got)
	}
	if s, ok, err := ix.Stamp("en"); s != "2" || !ok || err != nil {
		t.Errorf("stamp %q %v %v", s, ok, err)
	}
	if err := ix.Remove(ctx, "en"); err != nil {
		t.Fatal(err)
	}
	if got := ask(t, ix, Query{Words: "hatch"}); len(got) > 0 {
		t.Errorf("after removal: %v", got)
	}
	if _, ok, err := ix.Stamp("en"); ok || err != nil {
		t.Errorf("a removed paper has a stamp: %v", err)
	}
	keys, err := ix.Keys()
	if want := []string{"de", "es", "fr", "it", "pt"}; !slices.Equal(keys, want) || err != nil {
		t.Errorf("keys %v %v, want %v", keys, err, want)
	}
	for _, key := range keys {
		if err := ix.Remove(ctx, key); err != nil {
			t.Fatal(err)
		}
	}
	if got := ask(t, ix, Query{Words: "hatch"}); len(got) > 0 {
		t.Errorf("of no pages: %v", got)
	}
}

func TestNamesLike(t *testing.T) {
	ix := fill(t, invented()...)
	for word, want := range map[string][]string{
		"Branchinela":    {"Branchinella"},
		"branchinellla":  {"Branchinella"},
		"BRANCHINELLO":   {"Branchinella"},
		"Branchinella":   nil,
		"branchi":        nil,
		"fict":           nil, // too short to tell
		"fictx":          {"ficta"},
		"drying":         nil, // no name
		"branchinelloid": nil,
	} {
		got, err := ix.NamesLike(word)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%s: %v %v, want %v", word, got, err, want)
		}
	}
}

package reference

import (
	"fmt"
	"testing"
)

// TestCatalogue finds works by whatever a reference says of them. All are
// invented.
func TestCatalogue(t *testing.T) {
	hallow, birk, moor := Author{"J.", "Hallow"}, Author{"A.", "Birk"}, Author{"P.", "Moor"}
	var c Catalogue
	for key, r := range map[string]Record{
		"hallow1988":  {Title: "Cold and drought in the eggs of Testus inventus", Authors: []Author{hallow}, Year: 1988, DOI: "10.1234/ab.1", Volume: "3", Pages: "5–9"},
		"hallow1988a": {Title: "Salt and drought in the eggs of Testus inventus", Authors: []Author{hallow}, Year: 1988},
		"birk1990":    {Title: "Zum Schlupf aus Dauereiern der Moore", Authors: []Author{birk, moor}, Year: 1990, Volume: "7", Pages: "12–19"},
		"moor1970":    {Title: "Report", Authors: []Author{moor}, Year: 1970},
		"moor1971":    {Title: "Report", Authors: []Author{moor}, Year: 1971},
		"lind1995":    {Authors: []Author{{"R.", "Lind"}}, Year: 1995},
		"lind1995a":   {Authors: []Author{{"R.", "Lind"}}, Year: 1995},
		"thorn2001":   {Title: "Mud and its dwellers in the winter of the moor", Authors: []Author{{"E.", "Thorn"}}, Year: 2001, DOI: "10.1234/th.1"},
	} {
		c.Add(key, r)
	}
	for _, tt := range []struct {
		name string
		r    Record
		want string
	}{
		{"DOI alone", Record{DOI: "10.1234/AB.1"}, "hallow1988 by its DOI"},
		{"DOI against all else", Record{DOI: "10.1234/ab.1", Title: "Misprinted", Authors: []Author{birk}, Year: 1999}, "hallow1988 by its DOI"},
		{"title alone", Record{Title: "Cold and drought in the eggs of Testus in- ventus"}, "hallow1988 by its title"},
		{"title with a subtitle, the year before", Record{Title: "Cold and drought in the eggs of Testus inventus: a trial", Authors: []Author{hallow}, Year: 1987}, "hallow1988 by its title"},
		{"title of another's", Record{Title: "Cold and drought in the eggs of Testus inventus", Authors: []Author{birk}, Year: 1988}, ""},
		{"title decides between two of one year", Record{Title: "Salt and drought in the eggs of Testus inventus.", Authors: []Author{hallow}, Year: 1988}, "hallow1988a by its title"},
		{"a third of that year", Record{Title: "Cold, salt and drought in the eggs of Testus inventus", Authors: []Author{hallow}, Year: 1988}, "could be [hallow1988 hallow1988a]"},
		{"a third, quite another", Record{Title: "Vertebrate muscle under prolonged exercise", Authors: []Author{hallow}, Year: 1988}, ""},
		{"two of one author and year, no title", Record{Authors: []Author{hallow}, Year: 1988}, "could be [hallow1988 hallow1988a]"},
		{"two without titles", Record{Title: "Any title that was printed", Authors: []Author{{"R.", "Lind"}}, Year: 1995}, "could be [lind1995 lind1995a]"},
		{"a title of one word, by its year", Record{Title: "Report", Authors: []Author{moor}, Year: 1971}, "moor1971 by its title"},
		{"a translated title on the same pages", Record{Title: "[On hatching from resting eggs of moors]", Authors: []Author{birk, moor}, Year: 1990, Volume: "7", Pages: "12"}, "birk1990 by its authors and year"},
		{"authors and year", Record{Authors: []Author{birk, moor}, Year: 1990}, "birk1990 by its authors and year"},
		{"et al.", Record{Authors: []Author{birk, {}}, Year: 1990}, "birk1990 by its authors and year"},
		{"other authors", Record{Authors: []Author{birk, hallow}, Year: 1990}, ""},
		{"another year", Record{Authors: []Author{birk, moor}, Year: 1991}, ""},
		{"another DOI", Record{DOI: "10.1234/th.2", Title: "Mud", Authors: []Author{{"E.", "Thorn"}}, Year: 2001}, ""},
		{"nothing", Record{}, ""},
	} {
		if got := showFound(c.Find(tt.r)); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
	var none Catalogue
	if got := none.Find(Record{DOI: "10.1234/ab.1", Title: "Eggs", Authors: []Author{hallow}, Year: 1988}); got.Key != "" || got.Rivals != nil {
		t.Errorf("an empty catalogue has %+v", got)
	}
}

func showFound(f Found) string {
	switch {
	case f.Key != "":
		return fmt.Sprintf("%s by %s", f.Key, f.By)
	case f.Rivals != nil:
		return fmt.Sprintf("could be %v", f.Rivals)
	}
	return ""
}

// BenchmarkCatalogue finds one entry among the papers of a large library.
func BenchmarkCatalogue(b *testing.B) {
	var c Catalogue
	for n := range 15000 {
		c.Add(fmt.Sprint(n), Record{Title: fmt.Sprintf("Cold and drought in the eggs of the invented shrimp number %d of the moors", n),
			Authors: []Author{{"J.", fmt.Sprintf("Hallow%c%c", 'a'+n%26, 'a'+n/26%26)}}, Year: 1950 + n%70})
	}
	r := Record{Title: "Mud and light in the nauplii of another shrimp", Authors: []Author{{"J.", "Hallowab"}}, Year: 1990}
	for b.Loop() {
		c.Find(r)
	}
}

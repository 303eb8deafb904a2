package reference

import (
	"fmt"
	"strings"
	"testing"
)

func showEntry(e Entry) string {
	s := showRecord(e.Record)
	if e.Suffix != "" {
		s += " | " + e.Suffix
	}
	if e.Number > 0 {
		s = fmt.Sprintf("[%d] %s", e.Number, s)
	}
	return s
}

// All entries are made up.
var entryCases = []struct{ in, want string }{
	{"Hallow, J. K., Birk, A. & Moor, P. (1987a). Eggs of Testus inventus in mud. Journal of Small Waters 12: 101-117.",
		"Eggs of Testus inventus in mud | J. K./Hallow, A./Birk, P./Moor | 1987 | Journal of Small Waters 12 101–117 |  | a"},
	{"Hallow JK, Birk A. Eggs in mud. J Small Waters. 1987;12(3):101–17. doi:10.1234/ABC.5",
		"Eggs in mud | JK/Hallow, A/Birk | 1987 | J Small Waters 12 101–17 | 10.1234/abc.5"},
	{"[3] Hallow J (2001) Do they wait? Pool Lett 5:1–9",
		"[3] Do they wait? | J/Hallow | 2001 | Pool Lett 5 1–9 | "},
	{"12. Hallow, J. and A. Birk. 1990. A key to invented shrimps. Nowhere Press, Nowhere.",
		"[12] A key to invented shrimps | J./Hallow, A./Birk | 1990 |    | "},
	{"van der Moor P, Hallow J (1999) “Cold eggs.” Pool Letters, 3, 5–9.",
		"Cold eggs | P/van der Moor, J/Hallow | 1999 | Pool Letters 3 5–9 | "},
	{"Office of Invented Pools (2010). Report on eggs. Nowhere.",
		"Report on eggs | /Office of Invented Pools | 2010 |    | "},
	{"Hallow (J.-K.) et Birk (A.), 1968. Les œufs des mares. Cahiers des mares, 4 : 51–53.",
		"Les œufs des mares | J.-K./Hallow, A./Birk | 1968 | Cahiers des mares 4 51–53 | "},
	{"HALLOW, J. (1962): Zum Schlupf von T. inventus. Blätter für Tümpel 11, 40–42.",
		"Zum Schlupf von T. inventus | J./Hallow | 1962 | Blätter für Tümpel 11 40–42 | "},
}

func TestEntries(t *testing.T) {
	var all []string
	for _, c := range entryCases {
		all = append(all, c.in)
		es := Entries(c.in)
		if len(es) != 1 {
			t.Errorf("%q: %d entries", c.in, len(es))
			continue
		}
		if got := showEntry(es[0]); got != c.want {
			t.Errorf("\n got %s\nwant %s", got, c.want)
		}
	}
	if es := Entries("References\n" + strings.Join(all, "\n")); len(es) != len(entryCases) {
		t.Errorf("%d entries of %d in one list", len(es), len(entryCases))
	}
}

func TestEntriesAcrossLines(t *testing.T) {
	in := "References\nHallow, J. K., Birk, A. &\nMoor, P. (1987). Eggs in cold\nmud. Pool Let-\nters 12: 101-117.\n\nBirk, A. (1990). Dry eggs. Pool Letters 13: 1-9.\n"
	es := Entries(in)
	if len(es) != 2 {
		t.Fatalf("%d entries", len(es))
	}
	if got := showEntry(es[0]); got != "Eggs in cold mud | J. K./Hallow, A./Birk, P./Moor | 1987 | Pool Letters 12 101–117 | " {
		t.Error(got)
	}
	if got := in[es[1].Start:es[1].End]; !strings.HasPrefix(got, "Birk") || !strings.HasSuffix(got, "1-9.") {
		t.Errorf("span %q", got)
	}
}

// A letter that the file's font lost is one of the name, and a dash elsewhere.
func TestLostLetters(t *testing.T) {
	in := "P�rtner HO, G�bel S (2009) Cold �sh and eggs. Pool Letters 6: 23�31."
	es := Entries(in)
	if len(es) != 1 || es[0].Authors[0].Family != "P�rtner" || es[0].Raw != in || es[0].Title != "Cold �sh and eggs" {
		t.Fatalf("%+v", es)
	}
	for printed, want := range map[string]Likeness{"Pörtner": Same, "Portner": Same, "Partnerin": Unlike} {
		if got := CompareAuthors([]Author{{Family: printed}, {}, {}}, []Author{es[0].Authors[0], es[0].Authors[1], {}}); got != want {
			t.Errorf("%s: %d, want %d", printed, got, want)
		}
	}
}

// A blank that the font lost stands between authors and "et al." too.
func TestLostBlanks(t *testing.T) {
	es := Entries("Hallow J, Birk A\uFFFDet al.\uFFFD(2009) Cold eggs.\uFFFDPool Letters\uFFFD6: 23\uFFFD31.")
	if len(es) != 1 || showEntry(es[0]) != "Cold eggs.\uFFFDPool Letters\uFFFD6: 23\uFFFD31 | J/Hallow, A/Birk | 2009 |    | " {
		t.Errorf("%d entries: %s", len(es), showEntry(es[0]))
	}
}

// TestOpenings: which lines of a list open an entry, by their words.
func TestOpenings(t *testing.T) {
	for _, c := range []struct{ name, list, want string }{
		{"names that go on behind an initial", "Hallow, J. K., Moor, O.\nC., and Birk, A. (2012). Eggs. Pool Letters 1, 2–\n11. doi: 10.1234/ab.2\nBirk, A. (2013). Mud.", "+--+"},
		{"an editor behind an initial", "Hallow, J. (2004). Food. In Pools (ed. M.\nSmith, D. Birk and P. Moor), pp. 18-20. Nowhere.\nMoor, P. (1999). Mud.", "+-+"},
		{"behind the end of a DOI", "Hallow, J. (2000). Eggs. doi:10.1046/j.1365.2000.\n00387.x\nBirk, A. (2013). Mud.", "+-+"},
		{"numbers", "12. Hallow J, Moor P (1954) Eggs. Nowhere.\nBirk A, Moor P and friends, the 2nd part.\n13. Birk A (1960) Mud. Pool Lett 1: 3–\n14. Moor P (1961) Salt.\n15. Quill A (1962) Lime.", "+-+-+"},
		{"below headings", "References\n\nHallow, J. (2000). Eggs.", "--+"},
	} {
		got := ""
		for _, opens := range Openings(strings.Split(c.list, "\n")) {
			got += map[bool]string{true: "+", false: "-"}[opens]
		}
		if got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

func FuzzEntries(f *testing.F) {
	for _, c := range entryCases {
		f.Add(c.in)
	}
	f.Fuzz(func(t *testing.T, text string) {
		end := 0
		for _, e := range Entries(text) {
			if e.Start < end || e.End <= e.Start || e.End > len(text) {
				t.Fatalf("%q: span %d to %d after %d", text, e.Start, e.End, end)
			}
			if len(e.Authors) == 0 || e.Year == 0 {
				t.Fatalf("%q: entry without author or year", text)
			}
			end = e.End
		}
	})
}

func TestKey(t *testing.T) {
	used := map[string]bool{"hallow1987": true, "hallow1987a": true}
	for _, c := range []struct {
		r    Record
		want string
	}{
		{Record{Authors: []Author{{"J.", "Hallow"}}, Year: 1987}, "hallow1987b"},
		{Record{Authors: []Author{{"J.", "Hällow"}}, Year: 1988}, "hallow1988"},
		{Record{Authors: []Author{{"J.", "van der Måår"}}, Year: 1988}, "vandermaar1988"},
		{Record{Year: 1988}, "anon1988"},
		{Record{Stem: "Pool Notes-3"}, "poolnotes3"},
		{Record{Authors: []Author{{"", "Ли"}}, Year: 1990}, "anon1990"},
		{Record{}, "anon"},
	} {
		if got := Key(c.r, func(k string) bool { return used[k] }); got != c.want {
			t.Errorf("%+v: %s, want %s", c.r, got, c.want)
		}
	}
}

func TestKeyAlwaysFree(t *testing.T) {
	used := map[string]bool{}
	for range 800 {
		k := Key(Record{Year: 1990}, func(k string) bool { return used[k] })
		if used[k] {
			t.Fatalf("%s given twice", k)
		}
		used[k] = true
	}
}

func TestCitation(t *testing.T) {
	h, b, m := Author{"J.", "Hallow"}, Author{"A.", "Birk"}, Author{"P.", "Moor"}
	for _, c := range []struct {
		r    Record
		want string
	}{
		{Record{Authors: []Author{h}, Year: 1987}, "Hallow 1987"},
		{Record{Authors: []Author{h, b}, Year: 1987}, "Hallow & Birk 1987"},
		{Record{Authors: []Author{h, b, m}, Year: 1987}, "Hallow et al. 1987"},
		{Record{Title: "Eggs", Year: 1987}, "“Eggs” 1987"},
		{Record{Stem: "notes"}, "notes n.d."},
	} {
		if got := Citation(c.r); got != c.want {
			t.Errorf("%s, want %s", got, c.want)
		}
	}
}

package witness_test

import (
	"fmt"
	"strings"
	"testing"

	"hatchlore/evidence"
	"hatchlore/species/speciestest"
	"hatchlore/species/witness"
)

// shelved is a library whose papers are known by title and DOI. All are
// invented.
func shelved() witness.Library {
	return witness.Library{
		"quill1988":  {Key: "quill1988", Title: "Cold and drought in the eggs of an invented shrimp", Authors: []string{"Quill, A."}, Year: 1988, DOI: "10.1234/cold.1"},
		"quill1988a": {Key: "quill1988a", Title: "Salt and light in the eggs of an invented shrimp", Authors: []string{"Quill, A."}, Year: 1988},
		"moor1990":   {Key: "moor1990", Title: "Eggs in wet mud", Authors: []string{"Moor, P.", "Birk, A."}, Year: 1990},
		"thorn2001":  {Key: "thorn2001", Title: "A review of eggs in pools", Authors: []string{"Thorn, E."}, Year: 2001},
	}
}

// cites is a claim of a paper that cites entries of its own list.
func cites(paper, cited string, entries ...string) evidence.Claim {
	c := evidence.Claim{ID: paper + cited, Paper: paper, Secondhand: true, Cited: cited, Factor: evidence.Drying, Bearing: evidence.Favours, Category: "required", Taxon: "Ficta umbrosa"}
	for i, e := range entries {
		c.Entries = append(c.Entries, evidence.Entry{Place: i + 1, Printed: e})
	}
	return c
}

// TestWorks tells which paper an entry means, by whatever the list prints of
// it.
func TestWorks(t *testing.T) {
	for _, tt := range []struct {
		name, cited, entry, want string
	}{
		{"DOI, all else misprinted", "[1]", "1. Qill, B. (1987) Cold. Pool Lett 1: 2–3. doi:10.1234/COLD.1", "Quill 1988, in the library"},
		{"title and a line's end", "(Quill 1988)", "Quill, A. 1988. Cold and drought in the eggs of an in- vented shrimp. Pool Letters 3: 5–9.", "Quill 1988, in the library"},
		{"title without its subtitle, a year off", "(Quill 1989)", "Quill, A. 1989. Salt and light in the eggs of an invented shrimp: two trials. Pool Letters 4: 5–9.", "Quill 1988, in the library"},
		{"title decides between two of one year", "(Quill 1988)", "Quill, A. 1988. Salt and light in the eggs of an invented shrimp. Pool Letters 3: 5–9.", "Quill 1988, in the library"},
		{"a third of that year", "(Quill 1988c)", "Quill, A. 1988c. Mud and salt in the eggs of an invented shrimp. Pool Letters 3: 5–9.", "Quill 1988c, in the library perhaps as quill1988 or quill1988a"},
		{"no entry and two of one year", "(Quill 1988)", "", "Quill 1988, in the library perhaps as quill1988 or quill1988a"},
		{"no entry and one", "(Moor y Birk 1990)", "", "Moor & Birk 1990, in the library"},
		{"not there", "(Lind et al. 1995)", "Lind, R., Quill, A. & Birk, A. 1995. Lime. Pool Letters 9: 1–2.", "Lind et al. 1995, not in the library"},
		{"one there and one not", "(Moor & Birk 1990; Lind 1995)", "Moor, P. & Birk, A. 1990. Eggs in wet mud. Pool Letters 5: 1–4.", "Moor & Birk 1990, in the library; Lind 1995, not in the library"},
		{"two that are not", "(Lind 1995; Fern 1950; Moor & Birk 1990)", "", "Lind 1995 and Fern 1950, not in the library; Moor & Birk 1990, in the library"},
		{"the paper itself", "(Thorn 2001)", "Thorn, E. 2001. A review of eggs in pools. Pool Letters 9: 1–2.", "Thorn 2001, which is this paper itself"},
		{"its author in its year", "(Thorn 2001)", "", "Thorn 2001, not in the library"},
		{"nobody", "[7]", "", ""},
		{"a letter", "(K. Lind, pers. comm.)", "", ""},
	} {
		var entries []string
		if tt.entry != "" {
			entries = []string{tt.entry}
		}
		if got := witness.After(witness.Shelve(shelved()).Works(cites("thorn2001", tt.cited, entries...))); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
	own := cites("thorn2001", "(Quill 1988)")
	own.Secondhand = false
	if got := witness.Shelve(shelved()).Works(own); len(got) > 0 {
		t.Errorf("a finding of the paper's own is after %v", got)
	}
}

// nine are claims of nine papers that cite one experiment, each in its own way.
func nine() []evidence.Claim {
	var out []evidence.Claim
	for i, c := range []struct{ cited, entry string }{
		{"[1]", "[1] Lind R (1995) Lime and light in invented eggs. Pool Lett 9:1–2. doi:10.1234/lime.5"},
		{"[4]", "4. Lind, R. 1995. Lime and light in invented eggs: three trials. Pool Letters 9: 1–2."},
		{"(Lind 1995)", "Lind, R. (1995): LIME AND LIGHT IN INVENTED EGGS. – Pool Letters 9: 1–2."},
		{"Lind (1995a)", "Lind R. 1995a. Lime and light in in- vented eggs. Pool Letters 9, 1–2."},
		{"(Lind, 1995)", ""},
		{"(LIND 1995; Moor & Birk 1990)", ""},
		{"(Lind 1996)", "Lind, R. 1996. Lime and light in invented eggs. Pool Letters 9: 1–2. https://doi.org/10.1234/lime.5"},
		{"[12]", "[12] Lind R. Lime and light in invented eggs. Pool Lett. 1995;9:1–2."},
		{"(Lind, loc. cit.)", "Lind, R. 1995. Lime and light in invented eggs. Pool Letters 9: 1–2."},
	} {
		var entries []string
		if c.entry != "" {
			entries = []string{c.entry}
		}
		out = append(out, cites(fmt.Sprintf("citing%d", i), c.cited, entries...))
	}
	return out
}

// TestNineCitationsAreOneVoice: one experiment that nine papers quote speaks
// once, whether its paper is here or not; and the paper that comes later is the
// voice without any claim being read again.
func TestNineCitationsAreOneVoice(t *testing.T) {
	for _, here := range []bool{false, true} {
		lib := witness.Library{}
		want := "cited lind1996" // the entry that says most names it
		if here {
			lib["lind1995"] = witness.Paper{Key: "lind1995", Title: "Lime and light in invented eggs", Authors: []string{"Lind, R."}, Year: 1995, DOI: "10.1234/lime.5"}
			want = "lind1995"
		}
		voices := witness.Voices(nine(), witness.Shelve(lib))
		var got []string
		for _, v := range voices {
			got = append(got, fmt.Sprintf("%s %d", v.ID, len(v.Claims)))
		}
		if s := strings.Join(got, "; "); s != want+" 9" {
			t.Errorf("here %v: %s, want %s 9", here, s, want)
		}
	}
}

// TestWorksInACircle: papers that only cite each other, or one that only cites
// a third, are no sources; a paper's own finding is.
func TestWorksInACircle(t *testing.T) {
	for _, tt := range []struct{ name, claims, want string }{
		{"two cite each other", `
			alder dry favours required cite:Birch_&_Cole_1975
			birch dry favours required cite:Alder_1960`, "alder 2"},
		{"three in a circle, and one beside", `
			alder dry favours required cite:Birch_&_Cole_1975
			birch dry favours required cite:Bramkötter_1983
			fir dry favours required cite:Alder_1960
			cedar dry favours required cite:Bramkötter_1983`, "alder 4"},
		{"through one that found nothing itself", `
			cedar dry favours required cite:Birch_&_Cole_1975
			birch dry favours required cite:Alder_1960
			alder dry favours required`, "alder 3"},
		{"through one, to a work that is not here", `
			cedar dry favours required cite:Birch_&_Cole_1975
			birch dry favours required cite:Hallow_1930`, "cited hallow1930 2"},
		{"what it cites says otherwise", `
			cedar dry favours required cite:Birch_&_Cole_1975
			birch dry prevents harmful`, "birch 1; birch as cited by cedar 1"},
	} {
		voices := witness.Voices(speciestest.Claims(t, tt.claims), witness.Shelve(speciestest.Library()))
		var got []string
		for _, v := range voices {
			got = append(got, fmt.Sprintf("%s %d", v.ID, len(v.Claims)))
		}
		if s := strings.Join(got, "; "); s != tt.want {
			t.Errorf("%s: %s, want %s", tt.name, s, tt.want)
		}
	}
}

// TestMissing lists what to look for next: once each, the most cited first.
func TestMissing(t *testing.T) {
	claims := append(nine(),
		cites("thorn2001", "(Quill 1988c; Moor & Birk 1990)", "Quill, A. 1988c. Mud and salt in the eggs of an invented shrimp. Pool Letters 3: 5–9."),
		cites("thorn2001", "(Thorn 2001)", "Thorn, E. 2001. A review of eggs in pools. Pool Letters 9: 1–2."),
	)
	rejected := cites("quill1988", "(Fern 1950)")
	rejected.Decision = evidence.Rejected
	claims = append(claims, rejected)
	var got []string
	for _, w := range witness.Missing(claims, shelved()) {
		got = append(got, fmt.Sprintf("%s: %d claims in %d papers on %v, %q %s %v", w.Work, w.Claims, len(w.Papers), w.Taxa, w.Title, w.DOI, w.Rivals))
	}
	want := `Lind 1995: 9 claims in 9 papers on [Ficta umbrosa], "Lime and light in invented eggs" 10.1234/lime.5 []
Quill 1988c: 1 claims in 1 papers on [Ficta umbrosa], "Mud and salt in the eggs of an invented shrimp"  [quill1988 quill1988a]`
	if s := strings.Join(got, "\n"); s != want {
		t.Errorf("\n got %s\nwant %s", s, want)
	}
}

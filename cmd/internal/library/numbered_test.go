package library

import (
	"testing"

	"hatchlore/evidence"
	"hatchlore/ingest"
)

// TestNameNumbers: whom a bracketed number means is told by the list of
// references, so that the paper is found when the library has it.
func TestNameNumbers(t *testing.T) {
	entries := []string{
		"1. Haldon, P. Q. (1962) On the hatching of winter eggs. Notes 9, 117–119.",
		"2. Thorn, E., Birk, A. (1974) Drought and winter. Insects 6, 211.",
		"3. Moor, J., Hallow, K., Lind, R. (1990a) Cold and eggs. Insects 7, 12–19.",
	}
	page := ingest.Page{Number: 1, Text: "References\n\n"}
	for _, e := range entries {
		at := len(page.Text)
		page.Text += e + "\n\n"
		page.Blocks = append(page.Blocks, ingest.Block{Kind: ingest.Reference, Section: ingest.SectionReferences, Start: at, End: at + len(e)})
	}
	doc := &ingest.Document{Pages: []ingest.Page{page}}
	for _, c := range []struct{ printed, want string }{
		{"[1]", "Haldon 1962 [1]"},
		{"[2, 3]", "Thorn & Birk 1974; Moor et al. 1990a [2, 3]"},
		{"[1–3]", "Haldon 1962; Thorn & Birk 1974; Moor et al. 1990a [1–3]"},
		{"[9]", "[9]"},
		{"(Haldon 1962)", "(Haldon 1962)"},
		{"", ""},
	} {
		claims := []evidence.Claim{{Cited: c.printed}}
		nameNumbers(doc, claims)
		if claims[0].Cited != c.want {
			t.Errorf("%q: got %q, want %q", c.printed, claims[0].Cited, c.want)
		}
	}
}

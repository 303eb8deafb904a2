package rule

import (
	"strings"
	"testing"

	"hatchlore/ingest"
)

// TestHeadingNames: below a heading that names an animal the text is about it,
// also where the title names more; a heading without a name leaves it open.
func TestHeadingNames(t *testing.T) {
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	const text = "Resting eggs hatched at 8 °C."
	for _, c := range []struct {
		title, heading string
		want           string // taxa of the claims on 8 °C, in order
	}{
		{"Hatching of Fictobranchus albus and Lirocaris umbrosa", "Cold and Lirocaris umbrosa", "Lirocaris umbrosa"},
		{"Hatching of Fictobranchus albus and Lirocaris umbrosa", "The cold", "Fictobranchus albus, Lirocaris umbrosa"},
		{"Hatching in the cold", "Eggs of Fictobranchus albus", "Fictobranchus albus"},
	} {
		page := ingest.Page{Number: 1, How: ingest.ByText, Text: c.heading + "\n\n" + text}
		page.Blocks = []ingest.Block{{Kind: ingest.Heading, End: len(c.heading)}, {Kind: ingest.Paragraph, Start: len(c.heading) + 2, End: len(page.Text)}}
		var got []string
		for _, claim := range set.Match(&ingest.Document{Source: "a.pdf", Title: c.title, Lang: "en", Pages: []ingest.Page{page}}) {
			if claim.Low != nil && *claim.Low == 8 {
				got = append(got, claim.Taxon)
			}
		}
		if strings.Join(got, ", ") != c.want {
			t.Errorf("%s / %s: %q, want %q", c.title, c.heading, got, c.want)
		}
	}
}

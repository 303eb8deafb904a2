package library

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/ingest"
	"hatchlore/ingest/citation"
	"hatchlore/ingest/reference"
)

// nameNumbers writes whom a numbered citation means before it, from the paper's
// list of references: "[4]" becomes "Haldon 1962 [4]". A number without an entry
// stays as it is.
func nameNumbers(doc *ingest.Document, claims []evidence.Claim) {
	var entries map[int]reference.Entry // read when the first number is met
	for i, c := range claims {
		if !strings.HasPrefix(strings.TrimSpace(c.Cited), "[") {
			continue
		}
		if entries == nil {
			entries = numberedEntries(doc)
		}
		var names []string
		for _, m := range citation.Mentions(c.Cited) {
			for _, n := range m.Numbers {
				if e, ok := entries[n]; ok && !slices.Contains(names, shortCitation(e)) {
					names = append(names, shortCitation(e))
				}
			}
		}
		if len(names) > 0 {
			claims[i].Cited = strings.Join(names, "; ") + " " + c.Cited
		}
	}
}

// numberedEntries reads the entries of the paper's reference list that have
// numbers.
func numberedEntries(doc *ingest.Document) map[int]reference.Entry {
	var list strings.Builder
	for _, p := range doc.Pages {
		for _, b := range p.Blocks {
			if b.Section == ingest.SectionReferences && b.Kind != ingest.Heading {
				list.WriteString(p.Text[b.Start:b.End] + "\n")
			}
		}
	}
	out := map[int]reference.Entry{}
	for _, e := range reference.Entries(list.String()) {
		if _, twice := out[e.Number]; e.Number > 0 && !twice {
			out[e.Number] = e
		}
	}
	return out
}

func shortCitation(e reference.Entry) string {
	who := e.Authors[0].Family
	switch len(e.Authors) {
	case 1:
	case 2:
		who += " & " + e.Authors[1].Family
	default:
		who += " et al."
	}
	return fmt.Sprintf("%s %d%s", who, e.Year, e.Suffix)
}

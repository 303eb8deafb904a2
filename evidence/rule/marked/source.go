package marked

import (
	"regexp"
	"slices"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

var yearForm = regexp.MustCompile(`(?:1[89]|20)\d\d`)

// readReference notes whom an entry of the list of references names in its
// title: what the text says of that source is about them.
func (r *Text) readReference(page *ingest.Page, b ingest.Block, names []name.Name) {
	ws := lexicon.Words(page.Text, b.Start, b.End)
	year := yearForm.FindString(page.Text[b.Start:b.End])
	if len(ws) == 0 || year == "" {
		return
	}
	for _, n := range names {
		if n.Rank == name.Species && n.Start >= b.Start && n.End <= b.End {
			key := ws[0].Fold + " " + year
			r.sources[key] = append(r.sources[key], n)
		}
	}
}

// Entitled returns the species, each once, in the titles of the entries to which a
// citation can refer: of its authors and its year.
func (r *Text) Entitled(citation string) (found []name.Name) {
	year := yearForm.FindString(citation)
	for _, w := range lexicon.Words(citation, 0, len(citation)) {
		for _, n := range r.sources[w.Fold+" "+year] {
			if !slices.ContainsFunc(found, func(o name.Name) bool { return o.Full() == n.Full() }) {
				found = append(found, n)
			}
		}
	}
	return found
}

package rule

import (
	"regexp"

	"hatchlore/evidence/rule/lexicon"
	"hatchlore/ingest"
	"hatchlore/species/name"
)

var yearForm = regexp.MustCompile(`(?:1[89]|20)\d\d`)

// readReference notes whom an entry of the list of references names in its
// title: what the text says of that source is about them.
func (r *reading) readReference(page *ingest.Page, b ingest.Block, names []name.Name) {
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

// ofSource returns the one species of a cited paper's title, where the text says
// nothing else of whom it speaks and has several in view.
func (r *reading) ofSource(s *sentence, t *target, f *focus) []name.Name {
	all := r.fallback(f)
	if all == nil || len(all.names) < 2 {
		return nil
	}
	c, ok := r.citedFor(s, t)
	if !ok {
		return nil
	}
	text := s.page.Text[c.start:c.end]
	year := yearForm.FindString(text)
	var found []name.Name
	for _, w := range lexicon.Words(text, 0, len(text)) {
		for _, n := range r.sources[w.Fold+" "+year] {
			if len(found) == 0 || n.Full() != found[0].Full() {
				found = append(found, n)
			}
		}
	}
	if len(found) != 1 {
		return nil
	}
	for _, n := range all.names {
		if n.Full() == found[0].Full() {
			return []name.Name{n}
		}
	}
	return nil
}

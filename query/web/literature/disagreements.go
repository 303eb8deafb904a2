package literature

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
	"hatchlore/query/web/words"
	"hatchlore/query/wording"
	"hatchlore/species/conflict"
)

// disagreementViews enters a disagreement with its sides beside each other.
func (s *section) disagreementViews() {
	s.Page("GET /species/{taxon}/disagreements/{id}", s.oneDisagreement)
}

// disagreementPage is a disagreement with all that bears on it.
type disagreementPage struct {
	Disagreement conflict.Conflict
	Taxon        string // that was asked for; the disagreement's own may be a species of it
	Steps        steps
	Sides        []disagreementSide
	Tried        []query.Finding
	Levels       []string // that a trial would set
	Plan         string   // address of the form
	Note         string
}

// disagreementSide is one side with its sources, each with its words.
type disagreementSide struct {
	conflict.Side
	Letter  string
	Sources []disagreementSource
}

// disagreementSource is what one paper says on a side, or cites of another.
type disagreementSource struct {
	Citation   string
	Secondhand bool
	Cited      string
	Passages   []conflict.Passage
}

func (s *section) oneDisagreement(r *http.Request) (site.View, error) {
	taxon, id := r.PathValue("taxon"), r.PathValue("id")
	d, err := s.Disagreements(r.Context(), taxon)
	if err != nil {
		return site.View{}, err
	}
	i := slices.IndexFunc(d.Conflicts, func(c conflict.Conflict) bool { return c.ID == id })
	if i < 0 {
		return site.View{}, refuse.Missing("papers no longer disagree on this; it may have been settled by a decision of yours")
	}
	c := d.Conflicts[i]
	invented, err := s.inventedPapers(r.Context())
	if err != nil {
		return site.View{}, err
	}
	shows := false
	var sides []disagreementSide
	for n, side := range c.Sides {
		sides = append(sides, disagreementSide{side, conflict.Letter(n), sources(side)})
		shows = shows || slices.ContainsFunc(side.Papers, func(key string) bool { return invented[key] })
	}
	at := func(i int) string { return address.Disagreement(d.Taxon, d.Conflicts[i].ID) }
	page := disagreementPage{Disagreement: c, Taxon: d.Taxon, Sides: sides, Tried: d.Tried[c.ID], Levels: levels(c), Plan: address.PlanFor(c.Taxon, c.ID), Note: wording.FiguresNote,
		Steps: steps{step(i-1, len(d.Conflicts), at), step(i+1, len(d.Conflicts), at), fmt.Sprintf("disagreement %d of %d", i+1, len(d.Conflicts)), "Disagreements on " + d.Taxon}}
	return site.View{Name: "disagreement", Title: words.Capitalised(c.Question), Here: "species", Script: "sheet", Cautions: true, Invented: shows, Data: page}, nil
}

// sources parts what a side says by paper: own findings first, then what papers
// cite, by whom.
func sources(side conflict.Side) []disagreementSource {
	var out []disagreementSource
	for _, second := range []bool{false, true} {
		for _, p := range side.Passages() {
			if p.Secondhand != second {
				continue
			}
			last, cited := len(out)-1, bare(p.Cited)
			if last < 0 || out[last].Citation != p.Citation || out[last].Secondhand != second || out[last].Cited != cited {
				out = append(out, disagreementSource{Citation: p.Citation, Secondhand: second, Cited: cited})
				last++
			}
			out[last].Passages = append(out[last].Passages, p)
		}
	}
	return out
}

// bare takes the brackets off a citation that stands wholly in them.
func bare(cited string) string {
	inner, opens := strings.CutPrefix(cited, "(")
	inner, closes := strings.CutSuffix(inner, ")")
	if !opens || !closes || strings.ContainsAny(inner, "()") {
		return cited
	}
	return inner
}

// levels are the settings of a trial, each once.
func levels(c conflict.Conflict) []string {
	var out []string
	for _, l := range c.Levels {
		if !slices.Contains(out, l.Label) {
			out = append(out, l.Label)
		}
	}
	return out
}

package web

import (
	"net/http"
	"net/url"
	"slices"

	"hatchlore/query"
	"hatchlore/species"
)

// disputeViews enters a dispute with its sides beside each other.
func (s *Server) disputeViews() {
	s.page("GET /species/{taxon}/disputes/{id}", s.oneDispute)
}

// disputeSide is one side with its sources, each with its words.
type disputeSide struct {
	species.Side
	Letter  string
	Sources []disputeSource
}

// disputeSource is what one paper says on a side, or cites of another.
type disputeSource struct {
	Citation   string
	Secondhand bool
	Cited      string
	Passages   []species.Passage
}

func (s *Server) oneDispute(r *http.Request) (view, error) {
	taxon, id := r.PathValue("taxon"), r.PathValue("id")
	d, err := s.disputes(r.Context(), taxon)
	if err != nil {
		return view{}, err
	}
	i := slices.IndexFunc(d.Conflicts, func(c species.Conflict) bool { return c.ID == id })
	if i < 0 {
		return view{}, &refusal{http.StatusNotFound, "papers no longer dispute this; it may have been settled by a decision of yours"}
	}
	c := d.Conflicts[i]
	invented, err := s.inventedPapers(r.Context())
	if err != nil {
		return view{}, err
	}
	shows := false
	var sides []disputeSide
	for n, side := range c.Sides {
		sides = append(sides, disputeSide{side, sideLetter(n), sources(side)})
		shows = shows || slices.ContainsFunc(side.Papers, func(key string) bool { return invented[key] })
	}
	data := map[string]any{"Dispute": c, "Taxon": d.Taxon, "Sides": sides, "Tried": d.Tried[c.ID], "Levels": levels(c),
		"Plan": planAddress(c.Taxon, c.ID), "Note": query.FiguresNote, "Place": i + 1, "Of": len(d.Conflicts)}
	if i > 0 {
		data["Last"] = disputeAddress(d.Taxon, d.Conflicts[i-1].ID)
	}
	if i+1 < len(d.Conflicts) {
		data["Next"] = disputeAddress(d.Taxon, d.Conflicts[i+1].ID)
	}
	return view{name: "dispute", title: capitalised(c.Question), here: "species", script: "sheet", cautions: true, invented: shows, data: data}, nil
}

// sources parts what a side says by paper: own findings first, then what papers
// cite, by whom.
func sources(side species.Side) []disputeSource {
	var out []disputeSource
	for _, second := range []bool{false, true} {
		for _, p := range side.Passages() {
			if p.Secondhand != second {
				continue
			}
			last := len(out) - 1
			if last < 0 || out[last].Citation != p.Citation || out[last].Secondhand != second || out[last].Cited != p.Cited {
				out = append(out, disputeSource{Citation: p.Citation, Secondhand: second, Cited: p.Cited})
				last++
			}
			out[last].Passages = append(out[last].Passages, p)
		}
	}
	return out
}

// levels are the settings of a trial, each once.
func levels(c species.Conflict) []string {
	var out []string
	for _, l := range c.Levels {
		if !slices.Contains(out, l.Label) {
			out = append(out, l.Label)
		}
	}
	return out
}

// planAddress is where a trial is planned that could settle a dispute.
func planAddress(taxon, dispute string) string {
	return "/trials/plan?" + url.Values{"taxon": {taxon}, "dispute": {dispute}}.Encode()
}

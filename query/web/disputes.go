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

// disputeSource is what one paper says on a side.
type disputeSource struct {
	Citation   string
	Secondhand bool
	Says       []species.Saying
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

// sources sorts what a side says by paper, own findings before hearsay.
func sources(side species.Side) []disputeSource {
	var out []disputeSource
	for _, second := range []bool{false, true} {
		for _, say := range side.Says {
			if say.Secondhand != second {
				continue
			}
			i := slices.IndexFunc(out, func(s disputeSource) bool { return s.Citation == say.Citation && s.Secondhand == second })
			if i < 0 {
				out = append(out, disputeSource{Citation: say.Citation, Secondhand: second})
				i = len(out) - 1
			}
			out[i].Says = append(out[i].Says, say)
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

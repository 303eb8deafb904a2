package query

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/species/witness"
)

// Experiment is a paper that publishes an experiment again, or that the keeper
// says does not.
type Experiment struct {
	Paper    string `json:"paper"`
	Citation string `json:"citation"`
	First    string `json:"first"` // key of the first publication; "" for an experiment of its own
	FirstOf  string `json:"first_citation"`
	Why      string `json:"why"`    // what speaks for it, or the keeper's reason
	Judged   string `json:"judged"` // day of the keeper's word, ISO 8601; "" where figures decide
}

// Experiments returns the papers that publish an experiment again, by figures
// or by the keeper's word.
func (e *Engine) Experiments(ctx context.Context) ([]Experiment, error) {
	claims, names, lib, err := e.told(ctx, store.Filter{})
	if err != nil {
		return nil, err
	}
	lib.Join(witness.Twins(claims, lib, names))
	judged, err := e.store.Experiments(ctx)
	if err != nil {
		return nil, err
	}
	out := []Experiment{}
	for key, p := range lib {
		i := slices.IndexFunc(judged, func(x store.Experiment) bool { return x.Paper == key })
		if p.SameAs == "" && i < 0 {
			continue
		}
		x := Experiment{Paper: key, Citation: lib.Cite(key), First: p.SameAs, Why: p.SameWhy}
		if p.SameAs != "" {
			x.FirstOf = lib.Cite(p.SameAs)
		}
		if i >= 0 {
			x.Why, x.Judged = judged[i].Reason, judged[i].At.Format("2006-01-02")
		}
		out = append(out, x)
	}
	slices.SortFunc(out, func(a, b Experiment) int { return cmp.Compare(a.Paper, b.Paper) })
	return out, nil
}

// judge notes in the library what the keeper says of experiments published
// twice.
func judge(lib witness.Library, said []store.Experiment) {
	for _, x := range said {
		p, known := lib[x.Paper]
		if !known {
			continue
		}
		p.Judged, p.SameAs, p.SameWhy = true, x.First, strings.TrimSpace("as the keeper says: "+x.Reason)
		if x.Reason == "" {
			p.SameWhy = "as the keeper says"
		}
		lib[x.Paper] = p
	}
}

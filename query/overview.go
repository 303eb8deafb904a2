package query

import (
	"context"
	"maps"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/species"
)

// Known is a taxon of the library under its current name, with how much is
// told, disputed and unknown of it.
type Known struct {
	Taxon     string
	Others    []string // names in papers that are read as this one
	Claims    int
	Firsthand int // of those, papers' own findings
	Papers    int
	Disputes  int
	Open      int // factors of which no paper tells at first hand
}

// Overview returns every species and genus that claims speak of, by name.
// Claims on no single species are left out.
func (e *Engine) Overview(ctx context.Context) ([]Known, error) {
	claims, err := e.store.Claims(ctx, store.Filter{})
	if err != nil {
		return nil, err
	}
	names, err := e.names(ctx)
	if err != nil {
		return nil, err
	}
	lib, err := e.papers(ctx)
	if err != nil {
		return nil, err
	}
	by := map[string][]evidence.Claim{}
	for _, c := range claims {
		if c.Taxon != "" {
			name := names.Current(c.Taxon)
			by[name] = append(by[name], c)
		}
	}
	out := make([]Known, 0, len(by))
	for name, claims := range by {
		k := known(name, claims)
		own := maps.Clone(lib)
		own.Join(species.Twins(claims, own, names))
		k.Disputes = len(species.Conflicts(claims, own, names))
		k.Open = len(species.Questions(species.Selection{Taxon: name, Claims: claims}, own))
		out = append(out, k)
	}
	slices.SortFunc(out, func(a, b Known) int { return strings.Compare(a.Taxon, b.Taxon) })
	return out, nil
}

func known(name string, claims []evidence.Claim) Known {
	k := Known{Taxon: name, Claims: len(claims)}
	papers := map[string]bool{}
	for _, c := range claims {
		papers[c.Paper] = true
		if !c.Secondhand {
			k.Firsthand++
		}
		if !strings.EqualFold(c.Taxon, name) && !slices.Contains(k.Others, c.Taxon) {
			k.Others = append(k.Others, c.Taxon)
		}
	}
	k.Papers = len(papers)
	slices.Sort(k.Others)
	return k
}

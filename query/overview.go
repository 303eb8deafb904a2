package query

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/species"
	"hatchlore/species/taxonomy"
	"hatchlore/species/witness"
)

// Known is a taxon of the library under its current name, with how much is
// told, disputed and unknown of it.
type Known struct {
	Taxon     string
	Others    []string // names in papers that are read as this one
	Claims    int      // what a paper says in several places is one
	Firsthand int      // of those, papers' own findings
	Papers    int
	Disputes  int
	Open      int // factors of which no paper tells at first hand
}

// Overview returns every species and genus that claims speak of, by name.
// Claims on no single species are left out.
func (e *Engine) Overview(ctx context.Context) ([]Known, error) {
	claims, names, lib, err := e.told(ctx, store.Filter{})
	if err != nil {
		return nil, err
	}
	shelf, err := e.fingerprint(ctx)
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
		k, err := recall(e.memory, func() *map[string]Known { return &e.memory.counts }, shelf+name+printOf(claims), func() (Known, error) {
			return known(name, claims, lib, names), nil
		})
		if err != nil {
			return nil, err
		}
		out = append(out, k)
	}
	slices.SortFunc(out, func(a, b Known) int { return strings.Compare(a.Taxon, b.Taxon) })
	return out, nil
}

// Unnamed are claims that could be laid to no species or genus.
type Unnamed struct {
	Claims int
	Papers []string // keys
}

// Unnamed returns how many claims are on no single species, and in which
// papers. They stand in no evidence table until the keeper names what they
// speak of.
func (e *Engine) Unnamed(ctx context.Context) (Unnamed, error) {
	var out Unnamed
	claims, names, lib, err := e.told(ctx, store.Filter{Taxa: []string{""}})
	if err != nil || len(claims) == 0 {
		return out, err
	}
	out.Claims, _, _ = counted("", claims, lib, names)
	for _, c := range claims {
		if !slices.Contains(out.Papers, c.Paper) {
			out.Papers = append(out.Papers, c.Paper)
		}
	}
	slices.Sort(out.Papers)
	return out, nil
}

// fingerprint tells the papers, experiments and aliases of the library from
// every other.
func (e *Engine) fingerprint(ctx context.Context) (string, error) {
	digests, err := e.store.Digests(ctx)
	if err != nil {
		return "", err
	}
	experiments, err := e.store.Experiments(ctx)
	if err != nil {
		return "", err
	}
	aliases, err := e.store.Aliases(ctx)
	if err != nil {
		return "", err
	}
	h := sha256.New()
	for _, key := range slices.Sorted(maps.Keys(digests)) {
		fmt.Fprintln(h, key, digests[key])
	}
	fmt.Fprintln(h, experiments, aliases)
	return hex.EncodeToString(h.Sum(nil)), nil
}

// printOf tells claims with what was decided about them from every other.
func printOf(claims []evidence.Claim) string {
	h := sha256.New()
	for _, c := range claims {
		// An id covers what was read; an amendment says otherwise.
		fmt.Fprintf(h, "%s|%s|%s|%s|%s|%t|%s|%s\n", c.ID, c.Decision, c.MakeID(c.Paper), c.Stage, c.Unit, c.Secondhand, c.Cited, c.Quote)
	}
	return hex.EncodeToString(h.Sum(nil))
}

func known(name string, claims []evidence.Claim, lib witness.Library, names *taxonomy.Names) Known {
	k := Known{Taxon: name}
	k.Claims, k.Firsthand, k.Papers = counted(name, claims, lib, names)
	if twins := witness.Twins(claims, lib, names); len(twins) > 0 {
		lib = maps.Clone(lib) // what is twice in one species says nothing of another
		lib.Join(twins)
	}
	k.Disputes = len(species.Conflicts(claims, lib, names))
	k.Open = len(species.Questions(taxonomy.Selection{Taxon: name, Claims: claims}, lib))
	for _, c := range claims {
		if !strings.EqualFold(c.Taxon, name) && !slices.Contains(k.Others, c.Taxon) {
			k.Others = append(k.Others, c.Taxon)
		}
	}
	slices.Sort(k.Others)
	return k
}

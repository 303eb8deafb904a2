package query

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/store"
	"hatchlore/species/table"
	"hatchlore/species/taxonomy"
	"hatchlore/species/witness"
)

// KnownName is a name as papers print it, with how much is told under it. What
// a paper says in several places is one claim.
type KnownName struct {
	Taxon     string `json:"taxon"` // "" for claims on no single species
	Claims    int    `json:"claims"`
	Firsthand int    `json:"firsthand"` // of those, papers' own findings
	Papers    int    `json:"papers"`
	ReadAs    string `json:"read_as"` // current name; the same where it has no alias
}

// Names is every name of the library's claims, and what may be amiss with
// them.
type Names struct {
	Known    []KnownName
	Doubtful []taxonomy.Pair // may be two spellings of one name
	Aliases  []store.Alias
}

// Species returns the names that claims bear.
func (e *Engine) Species(ctx context.Context) (Names, error) {
	var out Names
	claims, names, lib, err := e.told(ctx, store.Filter{})
	if err != nil {
		return out, err
	}
	by := map[string][]evidence.Claim{}
	for _, c := range claims {
		by[c.Taxon] = append(by[c.Taxon], c)
	}
	for _, taxon := range slices.Sorted(maps.Keys(by)) {
		k := KnownName{Taxon: taxon, ReadAs: names.Current(taxon)}
		k.Claims, k.Firsthand, k.Papers = counted(taxon, by[taxon], lib, names)
		out.Known = append(out.Known, k)
	}
	if out.Doubtful, err = e.Alike(ctx); err != nil {
		return out, err
	}
	out.Aliases, err = e.store.Aliases(ctx)
	return out, err
}

// counted counts claims on a taxon: what a paper says in several places is one.
func counted(taxon string, claims []evidence.Claim, lib witness.Library, names *taxonomy.Names) (all, firsthand, papers int) {
	from := map[string]bool{}
	for _, r := range table.Of(taxonomy.Selection{Taxon: taxon, Claims: claims}, lib, names) {
		all++
		if !r.Secondhand {
			firsthand++
		}
		from[r.Paper] = true
	}
	return all, firsthand, len(from)
}

// Alike returns pairs of names that may be two spellings of one.
func (e *Engine) Alike(ctx context.Context) ([]taxonomy.Pair, error) {
	taxa, err := e.store.TaxonNames(ctx)
	if err != nil {
		return nil, err
	}
	names, err := e.names(ctx)
	if err != nil {
		return nil, err
	}
	current := map[string]bool{}
	for _, t := range taxa {
		current[names.Current(t)] = true
	}
	key := strings.Join(slices.Sorted(maps.Keys(current)), "|")
	return recall(e.memory, func() *map[string][]taxonomy.Pair { return &e.memory.alike }, key, func() ([]taxonomy.Pair, error) {
		return names.Doubtful(taxa), nil
	})
}

// CheckAlias says what is wrong with reading one name as another beside the
// aliases that there are: a circle, or no name at all.
func (e *Engine) CheckAlias(ctx context.Context, a store.Alias) error {
	all, err := e.store.Aliases(ctx)
	if err != nil {
		return err
	}
	_, err = resolver(with(all, a))
	return err
}

// with returns aliases with one more, in place of another of the same name.
func with(all []store.Alias, a store.Alias) []store.Alias {
	return append(slices.DeleteFunc(slices.Clone(all), func(b store.Alias) bool { return strings.EqualFold(b.Old, a.Old) }), a)
}

// ReadAs returns the aliases by which names are read as the one that is current, be
// it over another.
func (e *Engine) ReadAs(ctx context.Context, current string) ([]store.Alias, error) {
	all, err := e.store.Aliases(ctx)
	if err != nil {
		return nil, err
	}
	names, err := resolver(all)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(all, func(a store.Alias) bool { return !strings.EqualFold(names.Current(a.Old), current) }), nil
}

// Unclaimed returns which of the names no claim of the library bears as a paper
// printed it; a genus is borne by its species.
func (e *Engine) Unclaimed(ctx context.Context, names ...string) ([]string, error) {
	taxa, err := e.store.TaxonNames(ctx)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(slices.Clone(names), func(name string) bool {
		asked := taxonomy.Fold(name)
		return slices.ContainsFunc(taxa, func(t string) bool {
			return strings.HasPrefix(taxonomy.Fold(t)+" ", asked+" ")
		})
	}), nil
}

func resolver(all []store.Alias) (*taxonomy.Names, error) {
	aliases := make([]taxonomy.Alias, 0, len(all))
	for _, a := range all {
		aliases = append(aliases, taxonomy.Alias{Old: a.Old, New: a.New})
	}
	return taxonomy.NewNames(aliases)
}

// names returns the resolver of the library's names.
func (e *Engine) names(ctx context.Context) (*taxonomy.Names, error) {
	all, err := e.store.Aliases(ctx)
	if err != nil {
		return nil, err
	}
	names, err := resolver(all)
	if err != nil {
		return nil, fmt.Errorf("the library's aliases: %w; 'hatchlore species alias --remove NAME' takes one back", err)
	}
	return names, nil
}

// selection returns the claims on a taxon as the keeper typed it. Only those
// are read from the store, whatever else it holds.
func (e *Engine) selection(ctx context.Context, taxon string, borrow bool) (taxonomy.Selection, *taxonomy.Names, error) {
	names, err := e.names(ctx)
	if err != nil {
		return taxonomy.Selection{}, nil, err
	}
	taxa, err := e.store.TaxonNames(ctx)
	if err != nil {
		return taxonomy.Selection{}, nil, err
	}
	taxa = slices.DeleteFunc(taxa, func(t string) bool { return t == "" })
	current, err := taxonomy.Resolve(taxa, taxon, names)
	if err != nil {
		return taxonomy.Selection{}, nil, err
	}
	claims, err := e.store.Claims(ctx, store.Filter{Taxa: taxonomy.Speaking(taxa, current, names, borrow)})
	if err != nil {
		return taxonomy.Selection{}, nil, err
	}
	s, err := taxonomy.Select(claims, current, names, borrow)
	return s, names, err
}

// Fitting parts aliases into those that can be taken in beside the library's
// own and those that would close a circle.
func (e *Engine) Fitting(ctx context.Context, in []store.Alias) (fit, circular []store.Alias, err error) {
	all, err := e.store.Aliases(ctx)
	if err != nil {
		return nil, nil, err
	}
	for _, a := range in {
		more := with(all, a)
		if _, err := resolver(more); err != nil {
			circular = append(circular, a)
			continue
		}
		all, fit = more, append(fit, a)
	}
	return fit, circular, nil
}

package literature

import (
	"context"
	"net/http"
	"slices"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/query/web/address"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// nameViews enters what is decided about names: that one is read as another.
func (s *section) nameViews() {
	s.Form("POST "+address.Names, s.readAs)
}

// taxonNames is what is known of the names of a taxon.
type taxonNames struct {
	Aliases   []store.Alias // names that are read as it
	Unclaimed []string      // of it and those, the ones on which no paper has a claim: not come yet, or misspelt
	Perhaps   []spelling
	Taxa      []string // every name, to choose from
}

// Untold reports whether no paper has a claim on a name.
func (n taxonNames) Untold(name string) bool { return slices.Contains(n.Unclaimed, name) }

// spelling is a name that may be another spelling of one.
type spelling struct{ Name, Why string }

func (s *section) namesOf(ctx context.Context, taxon string) (taxonNames, error) {
	var out taxonNames
	var err error
	if out.Aliases, err = s.Answers().ReadAs(ctx, taxon); err != nil {
		return out, err
	}
	all := []string{taxon}
	for _, a := range out.Aliases {
		all = append(all, a.Old)
	}
	if out.Unclaimed, err = s.Answers().Unclaimed(ctx, all...); err != nil {
		return out, err
	}
	alike, err := s.Answers().Alike(ctx)
	if err != nil {
		return out, err
	}
	for _, p := range alike {
		switch taxon {
		case p.A:
			out.Perhaps = append(out.Perhaps, spelling{p.B, p.Why})
		case p.B:
			out.Perhaps = append(out.Perhaps, spelling{p.A, p.Why})
		}
	}
	out.Taxa, err = s.Store().TaxonNames(ctx)
	return out, err
}

// readAs reads a name as another from now on, or as itself again. It goes on at
// the species that the claims are on then, which says where no paper has a claim on one
// of the names: it may be prepared before its papers come, or be misspelt.
func (s *section) readAs(r *http.Request) (site.Answer, error) {
	field := func(name string) string { return strings.Join(strings.Fields(r.PostForm.Get(name)), " ") }
	a := store.Alias{Old: field("old"), New: field("new"), Reason: strings.TrimSpace(r.PostForm.Get("reason"))}
	if tooLong(a.Reason) {
		return nil, errTooLong
	}
	if r.PostForm.Get("do") == "release" {
		if _, err := s.Store().RemoveAlias(r.Context(), a.Old); err != nil {
			return nil, err
		}
		unclaimed, err := s.Answers().Unclaimed(r.Context(), a.Old)
		if err != nil || len(unclaimed) > 0 && a.New != "" {
			return site.Place(address.Species(a.New) + "#names"), err // no page is on the other
		}
		return site.Place(address.Species(a.Old)), nil
	}
	if a.Old == "" || a.New == "" {
		return nil, refuse.Wrong("say which name it is read as: a species or a genus of the library")
	}
	if err := s.Answers().CheckAlias(r.Context(), a); err != nil {
		return nil, refuse.Wrong(err.Error())
	}
	if err := s.Store().SetAlias(r.Context(), a); err != nil {
		return nil, err
	}
	return site.Place(address.Species(a.New) + "#names"), nil
}

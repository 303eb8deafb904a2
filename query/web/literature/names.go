package literature

import (
	"context"
	"net/http"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/query"
	"hatchlore/query/web/address"
	"hatchlore/query/web/refuse"
	"hatchlore/query/web/site"
)

// nameViews enters what is decided about names: that one is read as another.
func (s *section) nameViews() {
	s.Form("POST "+address.Names, s.readAs)
}

func (s *section) names(ctx context.Context) (query.Names, error) {
	return site.Asked(ctx, s.Site, "names", s.Answers().Species)
}

// aliasesOf are the names that the keeper reads as a taxon.
func aliasesOf(taxon string, names query.Names) []store.Alias {
	var out []store.Alias
	for _, a := range names.Aliases {
		if strings.EqualFold(a.New, taxon) {
			out = append(out, a)
		}
	}
	return out
}

// spelling is a name that may be another spelling of one.
type spelling struct{ Name, Why string }

// perhaps are the names that may be spellings of a taxon.
func perhaps(taxon string, names query.Names) []spelling {
	var out []spelling
	for _, p := range names.Doubtful {
		switch taxon {
		case p.A:
			out = append(out, spelling{p.B, p.Why})
		case p.B:
			out = append(out, spelling{p.A, p.Why})
		}
	}
	return out
}

// readAs reads a name as another from now on, or as itself again. It goes on at
// the species that the claims are on then.
func (s *section) readAs(r *http.Request) (site.Answer, error) {
	field := func(name string) string { return strings.Join(strings.Fields(r.PostForm.Get(name)), " ") }
	a := store.Alias{Old: field("old"), New: field("new"), Reason: strings.TrimSpace(r.PostForm.Get("reason"))}
	if len(a.Reason) > mostReason {
		return nil, tooLong()
	}
	if r.PostForm.Get("do") == "release" {
		if _, err := s.Store().RemoveAlias(r.Context(), a.Old); err != nil {
			return nil, err
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

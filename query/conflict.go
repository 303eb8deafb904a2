package query

import (
	"context"

	"hatchlore/evidence/trial"
	"hatchlore/species"
	"hatchlore/species/conflict"
	"hatchlore/species/pool"
)

// Disputes is what papers disagree about on a taxon, and what nobody tells.
type Disputes struct {
	Taxon     string
	Conflicts []conflict.Conflict  // in the order of conflict.Rule
	Open      []conflict.Conflict  // of kind silent
	Agreed    []species.Agreement  // what every first-hand source shares
	Pooled    []pool.Pooled        // hatched fractions taken together, or why not
	Tried     map[string][]Finding // what trials made of them, by conflict
}

// Conflicts returns the disagreements on a species or genus.
func (e *Engine) Conflicts(ctx context.Context, taxon string) (Disputes, error) {
	s, names, lib, err := e.about(ctx, taxon, false)
	if err != nil {
		return Disputes{}, err
	}
	digests, err := e.store.Digests(ctx)
	if err != nil {
		return Disputes{}, err
	}
	words, err := e.words(ctx, s.Claims, func(p *paperPages) error { return e.addEggs(ctx, lib, p, digests[p.paper]) })
	if err != nil {
		return Disputes{}, err
	}
	tried, err := e.Findings(ctx)
	if err != nil {
		return Disputes{}, err
	}
	out := Disputes{
		Tried:     tried,
		Taxon:     s.Taxon,
		Conflicts: species.Conflicts(s.Claims, lib, names),
		Open:      species.Questions(s, lib),
		Agreed:    species.Agreements(s.Claims, lib, names),
		Pooled:    pool.Of(s.Claims, lib, names, eggs(words)),
	}
	tellSides(out.Conflicts, words)
	tellSides(out.Open, words)
	return out, nil
}

// Questions turns conflicts into what a trial is planned for, in their order.
// Conflicts whose factor a keeper cannot set give none.
func Questions(conflicts []conflict.Conflict) []trial.Question {
	var out []trial.Question
	for _, c := range conflicts {
		q := trial.Question{ID: c.ID, Kind: string(c.Kind), Factor: c.Factor}
		for _, l := range c.Levels {
			q.Levels = append(q.Levels, trial.Level{
				Value: l.Value, Category: l.Category, Label: l.Label, Claims: l.Claims, Side: l.Side, Bearing: l.Bearing,
			})
			if l.Unit != "" {
				q.Unit = l.Unit
			}
		}
		if len(q.Levels) > 0 {
			out = append(out, q)
		}
	}
	return out
}

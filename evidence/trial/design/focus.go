package design

import (
	"fmt"
	"slices"

	"hatchlore/evidence/trial"
	"hatchlore/evidence/trial/caveat"
)

// caveats are what a keeper must know about the plan before starting it.
func (s *settled) caveats(p *trial.Plan, b dealt) ([]string, error) {
	out, err := caveat.Of(p, caveat.Bench{Chambers: s.Chambers, Runs: s.runs(), Lots: s.Lots, Forward: s.Forward})
	if err != nil {
		return nil, err
	}
	focus, err := s.focus(p, b)
	if focus != "" {
		out = append(out, focus)
	}
	return out, err
}

// evenChance is that from which a question is likely settled.
const evenChance = 0.5

// focus says what the first question alone could hope for, where none of
// several has an even chance of being settled.
func (s *settled) focus(p *trial.Plan, b dealt) (string, error) {
	if len(p.Settles) < 2 || slices.ContainsFunc(p.Settles, func(c trial.Settles) bool { return c.Least() >= evenChance }) {
		return "", nil
	}
	first := slices.IndexFunc(b.factors, func(f factor) bool { return slices.Contains(f.Conflicts, p.Settles[0].Conflict) })
	options, err := s.options(b.factors[first : first+1])
	if err != nil {
		return "", err
	}
	o, fixed, err := s.choose(options, b.fixed)
	if err != nil {
		return "", err
	}
	a, err := s.arena(s.deal(o.layout, fixed), simulations)
	if err != nil {
		return "", err
	}
	alone, err := a.Settle()
	if err != nil {
		return "", err
	}
	if alone[0].Chance > p.Settles[0].Chance+0.05 {
		return fmt.Sprintf("no question has an even chance of being settled: %s alone, with all dishes, would have %.0f %% instead of %.0f %%",
			b.factors[first].ID.Label(), 100*alone[0].Chance, 100*p.Settles[0].Chance), nil
	}
	return "", nil
}

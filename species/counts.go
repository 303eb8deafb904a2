package species

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// triggersOf returns the claims on triggers of a taxon that set the hatch off.
func triggersOf(gs []witness.Group, taxon string) []evidence.Claim {
	var out []evidence.Claim
	for _, g := range gs {
		if g.Taxon != taxon || g.Factor != evidence.Trigger {
			continue
		}
		for _, c := range g.Claims {
			if c.Bearing == evidence.Favours && !c.Secondhand {
				out = append(out, c)
			}
		}
	}
	return out
}

// counts finds fractions that were told of the same trigger in different
// stages: where one paper counts eggs that emerged and another those that
// hatched, and the first number is more than twice the second. A paper that
// counts both tells the keeper so itself and stands with those that hatched.
func counts(lib *witness.Shelf, g witness.Group, vs []witness.Voice, triggers []evidence.Claim) []conflict.Conflict {
	var out []conflict.Conflict
	for _, w := range categoriesOf(triggers) {
		after := func(c evidence.Claim) bool {
			return !c.Secondhand && value.HasNumber(c) && c.Bearing == evidence.Favours && slices.ContainsFunc(triggers, func(t evidence.Claim) bool {
				return t.Category == w && t.Paper == c.Paper && t.Page == c.Page && t.Start < c.End && c.Start < t.End
			})
		}
		hatching := best(vs, func(c evidence.Claim) bool { return after(c) && c.Stage == evidence.StageHatching })
		emergence := best(vs, func(c evidence.Claim) bool { return after(c) && c.Stage == evidence.StageEmergence })
		emergence = slices.DeleteFunc(emergence, func(e highest) bool {
			return slices.ContainsFunc(hatching, func(h highest) bool { return h.voice.ID == e.voice.ID })
		})
		var emerged, hatched []highest
		for _, e := range emergence {
			for _, h := range hatching {
				if clearly(value.SpanOf(h.claim), value.SpanOf(e.claim)) {
					emerged, hatched = append(emerged, e), append(hatched, h)
				}
			}
		}
		if len(emerged) > 0 {
			out = append(out, conflict.Conflict{Taxon: g.Taxon, Factor: g.Factor, Kind: conflict.Apart, Which: "stage:" + w, After: w,
				Sides: []conflict.Side{sideOf(lib, emerged), sideOf(lib, hatched)}})
		}
	}
	return out
}

// highest is a voice with the highest value that it tells.
type highest struct {
	voice witness.Voice
	claim evidence.Claim
}

// best returns the highest value of each voice among the claims taken.
func best(vs []witness.Voice, take func(evidence.Claim) bool) []highest {
	var out []highest
	for _, v := range vs {
		h := highest{voice: v}
		for _, c := range v.Claims {
			if take(c) && (h.claim.Factor == "" || value.SpanOf(c).Middle() > value.SpanOf(h.claim).Middle()) {
				h.claim = c
			}
		}
		if h.claim.Factor != "" {
			out = append(out, h)
		}
	}
	return out
}

func sideOf(lib *witness.Shelf, hs []highest) conflict.Side {
	var vs []witness.Voice
	taken := map[string]bool{}
	for _, h := range hs {
		if !witness.Holds(vs, h.voice) {
			vs = append(vs, h.voice)
		}
		taken[place(h.claim)] = true
	}
	return conflict.NewSide(lib, vs, nil, func(c evidence.Claim) bool { return taken[place(c)] })
}

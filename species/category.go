package species

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// needs finds treatments that one source calls required and another not
// needed or harmful; each trigger is a treatment of its own.
func needs(lib *witness.Shelf, g witness.Group, vs []witness.Voice) []conflict.Conflict {
	var out []conflict.Conflict
	for _, category := range treatments(g) {
		takes := func(want ...conflict.Stance) func(evidence.Claim) bool {
			return func(c evidence.Claim) bool {
				s, ok := conflict.StanceOf(c)
				return ok && (category == "" || c.Category == category) && slices.Contains(want, s)
			}
		}
		if c, ok := between(lib, g, vs, conflict.Need, takes(conflict.Needed), takes(conflict.NotNeeded), takes(conflict.Harms)); ok {
			c.Which = category
			out = append(out, c)
			continue
		}
		if g.Factor == evidence.Drying || g.Factor == evidence.Freezing {
			bare := func(c evidence.Claim) bool { return takes(conflict.Harms)(c) && !value.HasNumber(c) }
			if c, ok := between(lib, g, vs, conflict.Opposed, takes(conflict.Helps, conflict.Survived, conflict.Worked), bare); ok {
				c.Which = string(conflict.Harms)
				out = append(out, c)
			}
		}
	}
	return out
}

func treatments(g witness.Group) []string {
	if g.Factor != evidence.Trigger {
		return []string{""}
	}
	return categoriesOf(g.Claims)
}

func categoriesOf(claims []evidence.Claim) []string {
	var out []string
	for _, c := range claims {
		if c.Category != "" && !slices.Contains(out, c.Category) {
			out = append(out, c.Category)
		}
	}
	slices.Sort(out)
	return out
}

// between makes a conflict of the claims that the first taker takes against
// those of the others; ok is false where nobody disagrees.
func between(lib *witness.Shelf, g witness.Group, vs []witness.Voice, kind conflict.Kind, first func(evidence.Claim) bool, others ...func(evidence.Claim) bool) (conflict.Conflict, bool) {
	on := witness.Holding(vs, first)
	c := conflict.Conflict{Taxon: g.Taxon, Factor: g.Factor, Kind: kind}
	allTorn := map[string]bool{}
	for _, take := range others {
		against := witness.Holding(vs, take)
		torn := witness.Shared(on, against)
		if disagree(on, against, torn) || kind == conflict.Need && (contradicts(on, against, torn, first, take) || contradicts(against, on, torn, take, first)) {
			c.Sides = append(c.Sides, conflict.NewSide(lib, against, torn, take))
			for id := range torn {
				allTorn[id] = true
			}
		}
	}
	if len(c.Sides) == 0 {
		return c, false
	}
	c.Sides = slices.Insert(c.Sides, 0, conflict.NewSide(lib, on, allTorn, first))
	return c, true
}

// contradicts reports whether a source that stands on one side alone, by its own
// findings, meets one that found both there: whether a treatment is needed is asked
// of all eggs, so that "in one population" is no answer, and one sentence read
// wrongly in a paper must not hide what others say.
func contradicts(one, other []witness.Voice, torn map[string]bool, says, denies func(evidence.Claim) bool) bool {
	finds := func(v witness.Voice, take func(evidence.Claim) bool) bool {
		return slices.ContainsFunc(v.Firsthand().Claims, take)
	}
	return slices.ContainsFunc(one, func(v witness.Voice) bool { return !torn[v.ID] && finds(v, says) }) &&
		slices.ContainsFunc(other, func(v witness.Voice) bool { return torn[v.ID] && finds(v, says) && finds(v, denies) })
}

// categories finds conflicts between words: one trigger against another, light
// against darkness, and a word that favours where it prevents elsewhere.
func categories(lib *witness.Shelf, g witness.Group, vs []witness.Voice) []conflict.Conflict {
	if g.Factor != evidence.Trigger && g.Factor != evidence.Light && g.Factor != evidence.Oxygen {
		return nil
	}
	var out []conflict.Conflict
	words := categoriesOf(g.Claims)
	for _, w := range words {
		says := func(b ...evidence.Bearing) func(evidence.Claim) bool {
			return func(c evidence.Claim) bool { return c.Category == w && slices.Contains(b, c.Bearing) }
		}
		if c, ok := between(lib, g, vs, conflict.Opposed, says(evidence.Favours), says(evidence.Prevents)); ok {
			c.Which = w
			out = append(out, c)
		}
	}
	favoured := func(w string) func(evidence.Claim) bool {
		return func(c evidence.Claim) bool { return c.Category == w && c.Bearing == evidence.Favours }
	}
	var disputed []string
	for i, a := range words {
		for _, b := range words[i+1:] {
			on, against := witness.Holding(vs, favoured(a)), witness.Holding(vs, favoured(b))
			if exclude(g.Factor, a, b) && disagree(on, against, witness.Shared(on, against)) {
				disputed = append(disputed, a, b)
			}
		}
	}
	slices.Sort(disputed)
	if disputed = slices.Compact(disputed); len(disputed) == 0 {
		return out
	}
	c := conflict.Conflict{Taxon: g.Taxon, Factor: g.Factor, Kind: conflict.Apart}
	for _, w := range disputed {
		c.Sides = append(c.Sides, conflict.NewSide(lib, witness.Holding(vs, favoured(w)), nil, favoured(w)))
	}
	return append(out, c)
}

// exclude reports whether two words for a factor cannot both be what eggs
// want: any two triggers; of light and oxygen only contraries.
func exclude(f evidence.Factor, a, b string) bool {
	if f == evidence.Trigger {
		return a != b && a != "other" && b != "other"
	}
	for _, p := range [][2]string{{"light-required", "dark"}, {"continuous", "dark"}, {"long-day", "short-day"}, {"normoxic", "hypoxic"}, {"normoxic", "anoxic"}} {
		if a == p[0] && b == p[1] || a == p[1] && b == p[0] {
			return true
		}
	}
	return false
}

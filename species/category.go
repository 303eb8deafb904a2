package species

import (
	"slices"

	"hatchlore/evidence"
)

// stance is what a claim says of the need for a treatment.
type stance string

const (
	needed    stance = "required"
	helps     stance = "helpful"
	notNeeded stance = "not-required"
	harms     stance = "harmful"
	survived  stance = "tolerated"
	worked    stance = "" // eggs hatched after it, no more is said
)

// stanceOf returns the stance of a claim; ok is false for one that takes none.
func stanceOf(c evidence.Claim) (s stance, ok bool) {
	switch c.Factor {
	case evidence.Drying, evidence.Freezing:
		switch {
		case c.Category != "":
			return stance(c.Category), true
		case c.Bearing == evidence.Prevents:
			return harms, !hasNumber(c) // a harmful length is a matter of numbers
		case c.Bearing == evidence.Favours:
			return worked, true
		}
	case evidence.Light:
		switch {
		case c.Bearing == evidence.Favours && c.Category == "light-required":
			return needed, true
		case c.Category == "no-effect", c.Bearing == evidence.Indifferent && c.Category != "":
			return notNeeded, true
		}
	case evidence.Trigger:
		switch c.Bearing {
		case evidence.Favours:
			return needed, true
		case evidence.Indifferent:
			return notNeeded, true
		}
	}
	return "", false
}

// needs finds treatments that one source calls required and another not
// needed or harmful; each trigger is a treatment of its own.
func needs(lib *shelf, g group, vs []voice) []Conflict {
	var out []Conflict
	for _, category := range treatments(g) {
		takes := func(want ...stance) func(evidence.Claim) bool {
			return func(c evidence.Claim) bool {
				s, ok := stanceOf(c)
				return ok && (category == "" || c.Category == category) && slices.Contains(want, s)
			}
		}
		if c, ok := between(lib, g, vs, Need, takes(needed), takes(notNeeded), takes(harms)); ok {
			c.which = category
			out = append(out, c)
			continue
		}
		if g.factor == evidence.Drying || g.factor == evidence.Freezing {
			bare := func(c evidence.Claim) bool { return takes(harms)(c) && !hasNumber(c) }
			if c, ok := between(lib, g, vs, Opposed, takes(helps, survived, worked), bare); ok {
				c.which = string(harms)
				out = append(out, c)
			}
		}
	}
	return out
}

func treatments(g group) []string {
	if g.factor != evidence.Trigger {
		return []string{""}
	}
	return categoriesOf(g.claims)
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
func between(lib *shelf, g group, vs []voice, kind Kind, first func(evidence.Claim) bool, others ...func(evidence.Claim) bool) (Conflict, bool) {
	on := holding(vs, first)
	c := Conflict{Taxon: g.taxon, Factor: g.factor, Kind: kind}
	allTorn := map[string]bool{}
	for _, take := range others {
		against := holding(vs, take)
		torn := shared(on, against)
		if disagree(on, against, torn) {
			c.Sides = append(c.Sides, side(lib, against, torn, take))
			for id := range torn {
				allTorn[id] = true
			}
		}
	}
	if len(c.Sides) == 0 {
		return c, false
	}
	c.Sides = slices.Insert(c.Sides, 0, side(lib, on, allTorn, first))
	return c, true
}

func holding(vs []voice, take func(evidence.Claim) bool) []voice {
	var out []voice
	for _, v := range vs {
		if slices.ContainsFunc(v.claims, take) {
			out = append(out, v)
		}
	}
	return out
}

func shared(a, b []voice) map[string]bool {
	torn := map[string]bool{}
	for _, v := range a {
		if slices.ContainsFunc(b, func(w voice) bool { return w.id == v.id }) {
			torn[v.id] = true
		}
	}
	return torn
}

// categories finds conflicts between words: one trigger against another, light
// against darkness, and a word that favours where it prevents elsewhere.
func categories(lib *shelf, g group, vs []voice) []Conflict {
	if g.factor != evidence.Trigger && g.factor != evidence.Light && g.factor != evidence.Oxygen {
		return nil
	}
	var out []Conflict
	words := categoriesOf(g.claims)
	for _, w := range words {
		says := func(b ...evidence.Bearing) func(evidence.Claim) bool {
			return func(c evidence.Claim) bool { return c.Category == w && slices.Contains(b, c.Bearing) }
		}
		if c, ok := between(lib, g, vs, Opposed, says(evidence.Favours), says(evidence.Prevents)); ok {
			c.which = w
			out = append(out, c)
		}
	}
	favoured := func(w string) func(evidence.Claim) bool {
		return func(c evidence.Claim) bool { return c.Category == w && c.Bearing == evidence.Favours }
	}
	var disputed []string
	for i, a := range words {
		for _, b := range words[i+1:] {
			on, against := holding(vs, favoured(a)), holding(vs, favoured(b))
			if exclude(g.factor, a, b) && disagree(on, against, shared(on, against)) {
				disputed = append(disputed, a, b)
			}
		}
	}
	slices.Sort(disputed)
	if disputed = slices.Compact(disputed); len(disputed) == 0 {
		return out
	}
	c := Conflict{Taxon: g.taxon, Factor: g.factor, Kind: Apart}
	for _, w := range disputed {
		c.Sides = append(c.Sides, side(lib, holding(vs, favoured(w)), nil, favoured(w)))
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

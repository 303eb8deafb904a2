package species

import (
	"slices"

	"hatchlore/evidence"
)

// Questions returns what nobody tells at first hand about the taxon: one
// conflict of kind silent for each factor, in the order of [Rule]. Its sides
// show what is told at second hand, if anything. The claims are those of one
// selection; a genus is silent on a factor only when all its species are.
func Questions(s Selection, library Library) []Conflict {
	lib := shelve(library)
	by := map[evidence.Factor][]evidence.Claim{}
	told := map[evidence.Factor]bool{}
	for _, c := range ordered(s.Claims) {
		by[c.Factor] = append(by[c.Factor], c)
		told[c.Factor] = told[c.Factor] || !c.Secondhand
	}
	out := []Conflict{}
	for _, f := range factorOrder {
		if told[f] {
			continue
		}
		c := Conflict{Taxon: s.Taxon, Factor: f, Kind: Silent, Sides: []Side{}, Elsewhere: []Side{}, Reasons: []Reason{}, Levels: []Level{}}
		for _, b := range bearingOrder {
			take := func(c evidence.Claim) bool { return c.Bearing == b }
			vs := voices(by[f], lib)
			if slices.ContainsFunc(by[f], take) {
				c.Sides = append(c.Sides, side(lib, holding(vs, take), nil, take))
			}
		}
		c.ID = c.id()
		c.Stage = commonStage(c.Sides)
		c.Question = question(c)
		c.Reasons = append(c.Reasons, echoes(c.Sides, lib)...)
		out = append(out, c)
	}
	return out
}

package species

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/reason"
	"hatchlore/species/taxonomy"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Questions returns what nobody tells at first hand about the taxon: one
// conflict of kind silent for each factor, in the order of conflict.Rule. Its sides
// show what is told at second hand, if anything. The claims are those of one
// selection; a genus is silent on a factor only when all its species are.
func Questions(s taxonomy.Selection, library witness.Library) []conflict.Conflict {
	lib := witness.Shelve(library)
	by := map[evidence.Factor][]evidence.Claim{}
	told := map[evidence.Factor]bool{}
	for _, c := range witness.Ordered(s.Claims) {
		by[c.Factor] = append(by[c.Factor], c)
		told[c.Factor] = told[c.Factor] || !c.Secondhand
	}
	out := []conflict.Conflict{}
	for _, f := range conflict.Factors() {
		if told[f] {
			continue
		}
		c := conflict.Conflict{Taxon: s.Taxon, Factor: f, Kind: conflict.Silent, Sides: []conflict.Side{}, Elsewhere: []conflict.Elsewhere{}, Reasons: []conflict.Reason{}, Levels: []conflict.Level{}}
		for _, b := range value.Bearings() {
			take := func(c evidence.Claim) bool { return c.Bearing == b }
			vs := witness.Voices(by[f], lib)
			if slices.ContainsFunc(by[f], take) {
				c.Sides = append(c.Sides, conflict.NewSide(lib, witness.Holding(vs, take), nil, take))
			}
		}
		c.Describe()
		c.Reasons = append(c.Reasons, reason.Echoes(c, lib)...)
		out = append(out, c)
	}
	return out
}

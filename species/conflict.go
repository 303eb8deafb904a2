package species

import (
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/level"
	"hatchlore/species/reason"
	"hatchlore/species/taxonomy"
	"hatchlore/species/witness"
)

// Conflicts returns the disagreements among the claims, species by species,
// in the order of conflict.Rule. Claims that are rejected or bear no taxon are left
// out; a claim on a genus is set against others on the genus only.
func Conflicts(claims []evidence.Claim, library witness.Library, names *taxonomy.Names) []conflict.Conflict {
	lib := witness.Shelve(library)
	var out []conflict.Conflict
	gs := witness.Groups(claims, names)
	for _, g := range gs {
		if !slices.ContainsFunc(g.Claims, func(c evidence.Claim) bool { return !c.Secondhand }) {
			continue // an open question, see Questions
		}
		vs := witness.Voices(g.Claims, lib)
		asked := needs(lib, g, vs)
		out = append(out, asked...)
		if g.Factor != evidence.Light || len(asked) == 0 { // whether they hatch in the dark is what the need for light asks
			out = append(out, categories(lib, g, vs)...)
		}
		out = append(out, numbers(lib, g, vs)...)
		if g.Factor == evidence.HatchingFraction {
			out = append(out, counts(lib, g, vs, triggersOf(gs, g.Taxon))...)
		}
	}
	finish(out, gs, lib)
	slices.SortStableFunc(out, conflict.Compare)
	return out
}

// finish gives conflicts their ids, stages, questions, reasons and levels.
func finish(cs []conflict.Conflict, gs []witness.Group, lib *witness.Shelf) {
	all := map[string][]evidence.Claim{}
	for _, g := range gs {
		all[g.Taxon] = append(all[g.Taxon], g.Claims...)
	}
	for i := range cs {
		c := &cs[i]
		c.Describe()
		if c.Elsewhere == nil {
			c.Elsewhere = []conflict.Elsewhere{}
		}
		c.Reasons = reason.Of(*c, all[c.Taxon], lib)
		c.Levels = level.Of(*c)
	}
}

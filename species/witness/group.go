package witness

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/taxonomy"
)

// Group is the claims on one factor of one species.
type Group struct {
	Taxon  string
	Factor evidence.Factor
	Claims []evidence.Claim
}

// Groups sorts claims by species, under their current names, and by factor.
// Rejected claims and those on no single taxon are left out.
func Groups(claims []evidence.Claim, names *taxonomy.Names) []Group {
	at := map[[2]string]int{}
	current := map[string]string{}
	var out []Group
	for _, c := range Ordered(claims) {
		taxon, known := current[c.Taxon]
		if !known {
			taxon = names.Current(c.Taxon)
			current[c.Taxon] = taxon
		}
		if taxon == "" {
			continue
		}
		key := [2]string{taxon, string(c.Factor)}
		i, seen := at[key]
		if !seen {
			i = len(out)
			at[key] = i
			out = append(out, Group{Taxon: taxon, Factor: c.Factor})
		}
		out[i].Claims = append(out[i].Claims, c)
	}
	slices.SortStableFunc(out, func(a, b Group) int {
		return cmp.Or(strings.Compare(a.Taxon, b.Taxon), a.Factor.Order()-b.Factor.Order())
	})
	return out
}

// Ordered returns claims in one order whatever order they came in: by paper,
// page, place on the page, factor and id. Rejected claims are left out.
func Ordered(claims []evidence.Claim) []evidence.Claim {
	var out []evidence.Claim
	for _, c := range claims {
		if c.Decision != evidence.Rejected {
			out = append(out, c)
		}
	}
	slices.SortFunc(out, compareClaims)
	return out
}

func compareClaims(a, b evidence.Claim) int {
	if d := cmp.Or(strings.Compare(a.Paper, b.Paper), a.Page-b.Page, a.Start-b.Start, a.End-b.End, strings.Compare(a.ID, b.ID)); d != 0 {
		return d
	}
	return cmp.Or(a.Factor.Order()-b.Factor.Order(), strings.Compare(string(a.Bearing), string(b.Bearing)),
		strings.Compare(a.Category, b.Category), strings.Compare(a.Printed, b.Printed))
}

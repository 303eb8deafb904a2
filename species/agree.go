package species

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/taxonomy"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Agreement is what all sources with findings of their own share on a factor.
type Agreement struct {
	Taxon    string          `json:"taxon"`
	Factor   evidence.Factor `json:"factor"`
	Low      *float64        `json:"low"`
	High     *float64        `json:"high"`
	Unit     string          `json:"unit"`
	Category string          `json:"category"`
	Value    string          `json:"value"`
	Papers   []string        `json:"papers"` // keys, each experiment once
}

// Agreements returns, factor by factor, the range in which every first-hand
// source saw eggs hatch and none saw them fail, or else the word they all use. One
// value that a source found no better than others is none at which it hatched eggs by
// it: "0.6 mg/L was no better than doing nothing". A factor with one source, or
// without such a range, has none. What came of the
// eggs is compared by pooling, not here.
func Agreements(claims []evidence.Claim, library witness.Library, names *taxonomy.Names) []Agreement {
	lib := witness.Shelve(library)
	out := []Agreement{}
	for _, g := range witness.Groups(claims, names) {
		m, _ := evidence.MeasureOf(g.Factor)
		if m.Outcome {
			continue
		}
		first := slices.DeleteFunc(slices.Clone(g.Claims), func(c evidence.Claim) bool { return c.Secondhand })
		vs := witness.Voices(first, lib)
		before := len(out)
		for _, unit := range unitsOf(first) {
			if a, ok := common(g, vs, unit); ok {
				out = append(out, a)
			}
		}
		if a, ok := commonWord(g, vs); ok && len(out) == before { // a number says more
			out = append(out, a)
		}
	}
	slices.SortStableFunc(out, func(a, b Agreement) int {
		return cmp.Or(strings.Compare(a.Taxon, b.Taxon), a.Factor.Order()-b.Factor.Order())
	})
	return out
}

func common(g witness.Group, vs []witness.Voice, unit string) (Agreement, bool) {
	a := Agreement{Taxon: g.Taxon, Factor: g.Factor, Unit: unit}
	var shared value.Span
	for _, v := range vs {
		s, ok := hatchedBy(v).Reach(unit, hatched...)
		if !ok {
			continue
		}
		if len(a.Papers) == 0 {
			shared = s
		}
		shared = shared.Meet(s)
		a.Papers = append(a.Papers, v.Paper)
	}
	if len(a.Papers) < 2 || shared.Low > shared.High {
		return a, false
	}
	for _, bar := range bars(vs, unit) {
		if value.Overlap(g.Factor, shared, bar) {
			return a, false
		}
	}
	a.Low, a.High = shared.Ends()
	a.Value = value.Print(a.Low, a.High, a.Unit, "")
	return a, a.Low != nil || a.High != nil
}

// hatchedBy is a voice without the single values that it found to make no difference,
// where it favours others.
func hatchedBy(v witness.Voice) witness.Voice {
	favours := slices.ContainsFunc(v.Claims, func(c evidence.Claim) bool { return c.Bearing == evidence.Favours })
	v.Claims = slices.DeleteFunc(slices.Clone(v.Claims), func(c evidence.Claim) bool {
		return favours && c.Bearing == evidence.Indifferent && value.SpanOf(c).Point()
	})
	return v
}

// commonWord is the one category with which all sources favour a factor.
func commonWord(g witness.Group, vs []witness.Voice) (Agreement, bool) {
	a := Agreement{Taxon: g.Taxon, Factor: g.Factor}
	for _, v := range vs {
		speaks := false
		for _, c := range v.Claims {
			if c.Category == "" || c.Bearing == evidence.Reported {
				continue
			}
			if a.Category == "" {
				a.Category = c.Category
			}
			if c.Category != a.Category {
				return a, false
			}
			speaks = true
		}
		if speaks {
			a.Papers = append(a.Papers, v.Paper)
		}
	}
	a.Value = a.Category
	return a, len(a.Papers) > 1
}

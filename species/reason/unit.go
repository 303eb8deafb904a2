package reason

import (
	"fmt"
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// unitSlips compares each value of one side with each of the other, both ways.
func unitSlips(f evidence.Factor, a, b conflict.Side, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for _, pair := range [][2]conflict.Side{{a, b}, {b, a}} {
		seen := map[string]bool{}
		for _, x := range pair[0].Told {
			if !value.HasNumber(x) || seen[value.Of(x)] {
				continue
			}
			seen[value.Of(x)] = true
			out = append(out, slipsOf(f, x, pair[0], pair[1], lib)...)
		}
	}
	return out
}

// slipsOf returns the slips by which the value of x, which papers of one side
// print, becomes what others on the other side say: the sources that they cite for
// it where these are among them, else all that found it themselves.
func slipsOf(f evidence.Factor, x evidence.Claim, side, other conflict.Side, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for _, s := range value.Slips(f, value.SpanOf(x)) {
		meant := printing(other, func(y evidence.Claim) bool { return y.Unit == x.Unit && value.Same(f, s.Span, value.SpanOf(y)) })
		slipped := printing(side, func(y evidence.Claim) bool { return value.Of(y) == value.Of(x) })
		if sources := slices.DeleteFunc(slices.Clone(meant), func(k string) bool { return !citedFor(side, slipped, k, lib) }); len(sources) > 0 {
			meant = sources
		}
		slipped = slices.DeleteFunc(slipped, func(k string) bool { return len(meant) == 1 && meant[0] == k })
		if len(meant) == 0 || len(slipped) == 0 {
			continue
		}
		low, high := s.Ends()
		out = append(out, conflict.Reason{Kind: conflict.UnitSlip, Paper: slipped[0], Papers: slices.Concat(slipped, meant), Note: fmt.Sprintf("the %s of %s: %s, as in %s",
			asSaid(x), lib.Cites(slipped), fmt.Sprintf(s.How, value.Print(low, high, x.Unit, "")), lib.Cites(meant))})
	}
	return out
}

// printing returns the papers of a side that print a value: those with findings of
// their own, or those that cite where there are none.
func printing(s conflict.Side, takes func(evidence.Claim) bool) []string {
	var own, citing []string
	for _, c := range s.Told {
		list := &own
		if c.Secondhand {
			list = &citing
		}
		if value.HasNumber(c) && takes(c) && !slices.Contains(*list, c.Paper) {
			*list = append(*list, c.Paper)
		}
	}
	if len(own) > 0 {
		return own
	}
	return citing
}

// citedFor reports whether one of some papers on a side cites another.
func citedFor(s conflict.Side, by []string, paper string, lib *witness.Shelf) bool {
	return slices.ContainsFunc(s.Told, func(c evidence.Claim) bool {
		return c.Secondhand && slices.Contains(by, c.Paper) && slices.Contains(lib.Sources(c), paper)
	})
}

// asSaid shows a value with its printed form where that differs.
func asSaid(c evidence.Claim) string {
	v := value.Of(c)
	if c.Printed == "" || c.Printed == v {
		return v
	}
	return v + " (printed " + c.Printed + ")"
}

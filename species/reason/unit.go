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
			key := x.Paper + value.Of(x)
			if !value.HasNumber(x) || seen[key] {
				continue
			}
			seen[key] = true
			out = append(out, slipOf(f, x, pair[1], lib)...)
		}
	}
	return out
}

// slipOf returns the slips by which x becomes what papers on the other side
// say.
func slipOf(f evidence.Factor, x evidence.Claim, other conflict.Side, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for _, s := range value.Slips(f, value.SpanOf(x)) {
		var papers []string
		for _, y := range other.Told {
			if y.Paper != x.Paper && value.HasNumber(y) && y.Unit == x.Unit && value.Same(f, s.Span, value.SpanOf(y)) && !slices.Contains(papers, y.Paper) {
				papers = append(papers, y.Paper)
			}
		}
		if len(papers) == 0 {
			continue
		}
		low, high := s.Ends()
		out = append(out, conflict.Reason{Kind: conflict.UnitSlip, Paper: x.Paper, Note: fmt.Sprintf("the %s of %s: %s, as in %s", asSaid(x), lib.Cite(x.Paper),
			fmt.Sprintf(s.How, value.Print(low, high, x.Unit, "")), lib.Cites(papers))})
	}
	return out
}

// asSaid shows a value with its printed form where that differs.
func asSaid(c evidence.Claim) string {
	v := value.Of(c)
	if c.Printed == "" || c.Printed == v {
		return v
	}
	return v + " (printed " + c.Printed + ")"
}

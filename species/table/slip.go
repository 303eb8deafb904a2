package table

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// hottest is what water a keeper would give to eggs of any pool, °C. Our own
// judgement, no source: it keeps 35 °C of a desert pool from being taken for 35 °F.
const hottest = 40

// slipMark begins the mark of a value whose unit may have gone wrong.
const slipMark = "unit?"

// MaybeSlip reports whether the unit of the row's value may have gone wrong in print.
func (r Row) MaybeSlip() bool {
	return slices.ContainsFunc(r.Marks, func(m string) bool { return strings.HasPrefix(m, slipMark) })
}

// markSlips marks values that look as if their unit had gone wrong in print: in
// another unit they would be what another paper has, and no other paper is anywhere
// near. Whether they have is for whoever looks at the page to say.
func markSlips(rows []Row) {
	for i, x := range rows {
		if !value.HasNumber(x.Claim) || near(x, rows) {
			continue
		}
		for _, s := range value.Slips(x.Factor, value.SpanOf(x.Claim)) {
			if !wide(value.SpanOf(x.Claim), s.Span, x.Unit) {
				continue
			}
			if as := printedAs(x, s.Span, rows); len(as) > 0 {
				low, high := s.Ends()
				rows[i].Marks = append(rows[i].Marks, slipMark+" "+fmt.Sprintf(s.How, value.Print(low, high, x.Unit, ""))+", as in "+witness.Some(as))
				break
			}
		}
	}
}

// wide reports whether a value lies so far from what it would be that no misplaced
// decimal point explains it, but a unit: °F told as °C, mS told as µS.
func wide(printed, turned value.Span, unit string) bool {
	if unit == "degC" {
		return printed.Low >= hottest
	}
	return printed.Middle() >= 100*turned.Middle()
}

// near reports whether another paper has a value within tenfold, or within ten
// degrees, of x.
func near(x Row, rows []Row) bool {
	s := value.SpanOf(x.Claim)
	loose := value.Span{Low: s.Low / 10, High: s.High * 10}
	if x.Unit == "degC" {
		loose = value.Span{Low: s.Low - 10, High: s.High + 10}
	}
	return slices.ContainsFunc(rows, func(y Row) bool {
		return y.Paper != x.Paper && !y.Secondhand && likened(x, y) && value.Overlap(x.Factor, loose, value.SpanOf(y.Claim))
	})
}

// printedAs cites the other papers that have a value by their own work.
func printedAs(x Row, s value.Span, rows []Row) []string {
	var out []string
	for _, y := range rows {
		if y.Paper != x.Paper && !y.Secondhand && likened(x, y) && value.Same(x.Factor, s, value.SpanOf(y.Claim)) && !slices.Contains(out, y.Citation) {
			out = append(out, y.Citation)
		}
	}
	return out
}

func likened(x, y Row) bool {
	return value.HasNumber(y.Claim) && x.Name == y.Name && x.Factor == y.Factor && x.Unit == y.Unit && y.Decision != evidence.Rejected
}

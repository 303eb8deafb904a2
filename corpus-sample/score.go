package corpus

import (
	"fmt"
	"math"
	"strings"

	"hatchlore/evidence"
)

// Score counts how claims that were read agree with the labelled ones.
type Score struct{ Right, Gold, Claimed int }

// Precision is the share of the claims read that are right, 0 when none was.
func (s Score) Precision() float64 { return ratio(s.Right, s.Claimed) }

// Recall is the share of the labelled claims that were read.
func (s Score) Recall() float64 { return ratio(s.Right, s.Gold) }

// F1 is the harmonic mean of precision and recall (van Rijsbergen 1979,
// Information Retrieval, ch. 7, with equal weights).
func (s Score) F1() float64 { return ratio(2*s.Right, s.Gold+s.Claimed) }

// Add returns the counts of both.
func (s Score) Add(t Score) Score {
	return Score{s.Right + t.Right, s.Gold + t.Gold, s.Claimed + t.Claimed}
}

func (s Score) String() string {
	return fmt.Sprintf("precision %.3f, recall %.3f, F1 %.3f", s.Precision(), s.Recall(), s.F1())
}

func ratio(a, b int) float64 {
	if b == 0 {
		return 0
	}
	return float64(a) / float64(b)
}

// Agreement holds the counts at three levels: Value when factor and value
// agree, Bearing when the bearing does too, Full when the taxon does as well.
type Agreement struct{ Value, Bearing, Full Score }

// Add returns the counts of both.
func (a Agreement) Add(b Agreement) Agreement {
	return Agreement{a.Value.Add(b.Value), a.Bearing.Add(b.Bearing), a.Full.Add(b.Full)}
}

// Compare matches claims that were read with labelled ones, one to one and as
// many as can be. Claims from a word that hides a number are left out: the
// labels hold only what is printed.
func Compare(gold []Claim, read []evidence.Claim) Agreement {
	var printed []evidence.Claim
	for _, c := range read {
		if !c.Implied {
			printed = append(printed, c)
		}
	}
	bearing := func(g Claim, c evidence.Claim) bool { return sameValue(g, c) && g.Bearing == c.Bearing }
	full := func(g Claim, c evidence.Claim) bool { return bearing(g, c) && sameTaxon(g.Taxon, c.Taxon) }
	return Agreement{score(gold, printed, sameValue), score(gold, printed, bearing), score(gold, printed, full)}
}

// score counts the largest one-to-one matching.
func score[G, R any](gold []G, read []R, same func(G, R) bool) Score {
	s := Score{Gold: len(gold), Claimed: len(read)}
	for _, owner := range matched(gold, read, same) {
		if owner >= 0 {
			s.Right++
		}
	}
	return s
}

// matched finds the largest one-to-one matching by augmenting paths (Kuhn 1955,
// Naval Research Logistics Quarterly 2:83-97, without weights): for each that
// was read the label that it matches, -1 for none.
func matched[G, R any](gold []G, read []R, same func(G, R) bool) []int {
	owner := make([]int, len(read))
	for j := range owner {
		owner[j] = -1
	}
	var grab func(g int, seen []bool) bool
	grab = func(g int, seen []bool) bool {
		for j, c := range read {
			if seen[j] || !same(gold[g], c) {
				continue
			}
			seen[j] = true
			if owner[j] < 0 || grab(owner[j], seen) {
				owner[j] = g
				return true
			}
		}
		return false
	}
	for g := range gold {
		grab(g, make([]bool, len(read)))
	}
	return owner
}

func sameValue(g Claim, c evidence.Claim) bool {
	if g.Factor != c.Factor {
		return false
	}
	if g.Low != nil || g.High != nil || c.Low != nil || c.High != nil {
		return near(g.Low, c.Low) && near(g.High, c.High)
	}
	return g.Category == "" || g.Category == c.Category
}

// near allows for rounding in the conversion of units: 1 % or 0.06.
func near(a, b *float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(*a-*b) <= max(0.06, 0.01*max(math.Abs(*a), math.Abs(*b)))
}

func sameTaxon(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}

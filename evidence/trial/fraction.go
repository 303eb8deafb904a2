package trial

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"
	"strings"
)

// effect is a product of two-level factors as a set of bits: factor A is bit 0.
type effect uint

func (e effect) order() int { return bits.OnesCount(uint(e)) }

// String writes the effect in letters, as designs are tabulated.
func (e effect) String() string {
	var b strings.Builder
	for i := range bits.UintSize {
		if e&(1<<i) != 0 {
			b.WriteByte(byte('A' + i))
		}
	}
	return b.String()
}

// parseEffect reads letters.
func parseEffect(s string) effect {
	var e effect
	for _, c := range s {
		e |= 1 << (c - 'A')
	}
	return e
}

func compareEffects(a, b effect) int {
	return cmp.Or(cmp.Compare(a.order(), b.order()), strings.Compare(a.String(), b.String()))
}

// fraction is a regular fraction of the two-level factorial of its factors: the
// first ones vary freely, each later one is a product of them.
type fraction struct {
	free       int
	generators []effect // of the factors after the free ones
}

// catalogue holds the generators of the usual fractions, 3 to 8 factors, by
// factors and free factors. They are the minimum-aberration designs of NIST's
// Dataplot file DEXRES4 and of the tables of general statistics packages.
var catalogue = map[[2]int]string{
	{3, 2}: "AB",
	{4, 3}: "ABC",
	{5, 4}: "ABCD",
	{5, 3}: "AB AC",
	{6, 5}: "ABCDE",
	{6, 4}: "ABC BCD",
	{6, 3}: "AB AC BC",
	{7, 6}: "ABCDEF",
	{7, 5}: "ABCD ABDE",
	{7, 4}: "ABC BCD ACD",
	{7, 3}: "AB AC BC ABC",
	{8, 6}: "ABCD ABEF",
	{8, 5}: "ABC ABD BCDE",
	{8, 4}: "BCD ACD ABC ABD",
}

// fractionOf returns the catalogue's fraction of n factors in 2^free runs.
func fractionOf(n, free int) (fraction, bool) {
	words, ok := catalogue[[2]int{n, free}]
	if !ok {
		return fraction{}, false
	}
	f := fraction{free: free}
	for w := range strings.FieldsSeq(words) {
		f.generators = append(f.generators, parseEffect(w))
	}
	return f, true
}

// words returns the defining relation: the products that are constant over the
// runs, shortest first.
func (f fraction) words() []effect {
	out := []effect{0}
	for i, g := range f.generators {
		w := g | 1<<(f.free+i)
		for _, o := range slices.Clone(out) {
			out = append(out, o^w)
		}
	}
	out = out[1:]
	slices.SortFunc(out, compareEffects)
	return out
}

// resolution is the length of the shortest defining word.
func (f fraction) resolution() int { return f.words()[0].order() }

// aliases returns the effects that the runs cannot tell from e, shortest first.
func (f fraction) aliases(e effect) []effect {
	var out []effect
	for _, w := range f.words() {
		out = append(out, e^w)
	}
	slices.SortFunc(out, compareEffects)
	return out
}

// runs returns the signs of each run in Yates order (A changes fastest), -1 for
// the first level. With lowRun, the signs of the generators are chosen so that
// one run has every factor at its first level: the untreated eggs.
func (f fraction) runs(lowRun bool) [][]int {
	var out [][]int
	for r := range 1 << f.free {
		var signs []int
		for i := range f.free {
			signs = append(signs, 2*(r>>i&1)-1)
		}
		for _, g := range f.generators {
			s := 1
			for i := range f.free {
				if g&(1<<i) != 0 {
					s *= signs[i]
				}
			}
			if lowRun && g.order()%2 == 0 {
				s = -s
			}
			signs = append(signs, s)
		}
		out = append(out, signs)
	}
	return out
}

var romans = []string{"", "I", "II", "III", "IV", "V", "VI", "VII", "VIII"}

// inWords says which effects of one or two factors the fraction confuses, with
// the factors' own names.
func (f fraction) inWords(names []string) []string {
	out := []string{}
	n := f.free + len(f.generators)
	seen := map[effect]bool{}
	for size := 1; size <= 2; size++ {
		for e := effect(1); e < 1<<n; e++ {
			if e.order() != size || seen[e] {
				continue
			}
			var twins []string
			for _, a := range f.aliases(e) {
				if a.order() <= 2 {
					seen[a] = true
					twins = append(twins, effectInWords(a, names))
				}
			}
			if len(twins) > 0 {
				out = append(out, fmt.Sprintf("the effect of %s cannot be told from %s", effectInWords(e, names), strings.Join(twins, " or ")))
			}
		}
	}
	return out
}

func effectInWords(e effect, names []string) string {
	var out []string
	for i, n := range names {
		if e&(1<<i) != 0 {
			out = append(out, n)
		}
	}
	return strings.Join(out, " × ")
}

// fractional lays out a fraction of the two-level dish factors, crossed with
// every combination of the other factors, in 2^free runs of the former.
func (s *settled) fractional(factors []Factor, free int) (layout, bool) {
	var two []int
	var names []string
	for i, f := range factors {
		if !f.WholePlot && len(f.Levels) == 2 {
			two, names = append(two, i), append(names, f.ID.Label())
		}
	}
	fr, ok := fractionOf(len(two), free)
	if !ok {
		return layout{}, false
	}
	allowed := map[string]bool{}
	for _, signs := range fr.runs(true) {
		allowed[fmt.Sprint(signs)] = true
	}
	var ts []Treatment
	for _, t := range fullFactorial(factors) {
		signs := make([]int, len(two))
		for k, i := range two {
			signs[k] = 1
			if t.Settings[i] == factors[i].Levels[0] {
				signs[k] = -1
			}
		}
		if allowed[fmt.Sprint(signs)] {
			ts = append(ts, t)
		}
	}
	return layout{factors: factors, treatments: withControl(factors, ts), design: Design{Kind: regularFraction, SplitPlot: hasWholePlot(factors),
		Resolution: romans[fr.resolution()], Aliases: fr.inWords(names)}}, true
}

func hasWholePlot(factors []Factor) bool {
	return slices.ContainsFunc(factors, func(f Factor) bool { return f.WholePlot })
}

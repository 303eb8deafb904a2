// Package scheme holds the schemes by which treatments are chosen and placed,
// as plain tables of signs and numbers: regular fractions of two-level
// factorials, with what they confuse, and Latin squares.
//
// It knows nothing of eggs, and refuses factors beyond the catalogue's eight:
// no keeper sets more at once.
package scheme

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"
	"strings"
)

// Effect is a product of two-level factors as a set of bits: factor A is bit 0.
type Effect uint

// Order returns the number of factors in the product.
func (e Effect) Order() int { return bits.OnesCount(uint(e)) }

// String writes the effect in letters, as designs are tabulated.
func (e Effect) String() string {
	var b strings.Builder
	for i := range bits.UintSize {
		if e&(1<<i) != 0 {
			b.WriteByte(byte('A' + i))
		}
	}
	return b.String()
}

// ParseEffect reads letters from A on.
func ParseEffect(s string) Effect {
	var e Effect
	for _, c := range s {
		e |= 1 << (c - 'A')
	}
	return e
}

func compareEffects(a, b Effect) int {
	return cmp.Or(cmp.Compare(a.Order(), b.Order()), strings.Compare(a.String(), b.String()))
}

// Fraction is a regular fraction of the two-level factorial of its factors: the
// first ones vary freely, each later one is a product of them.
type Fraction struct {
	Free       int
	Generators []Effect // of the factors after the free ones
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

// FractionOf returns the catalogue's fraction of n factors in 2^free runs.
func FractionOf(n, free int) (Fraction, bool) {
	words, ok := catalogue[[2]int{n, free}]
	if !ok {
		return Fraction{}, false
	}
	f := Fraction{Free: free}
	for w := range strings.FieldsSeq(words) {
		f.Generators = append(f.Generators, ParseEffect(w))
	}
	return f, true
}

// Words returns the defining relation: the products that are constant over the
// runs, shortest first.
func (f Fraction) Words() []Effect {
	out := []Effect{0}
	for i, g := range f.Generators {
		w := g | 1<<(f.Free+i)
		for _, o := range slices.Clone(out) {
			out = append(out, o^w)
		}
	}
	out = out[1:]
	slices.SortFunc(out, compareEffects)
	return out
}

// Resolution is the length of the shortest defining word.
func (f Fraction) Resolution() int { return f.Words()[0].Order() }

// Aliases returns the effects that the runs cannot tell from e, shortest first.
func (f Fraction) Aliases(e Effect) []Effect {
	var out []Effect
	for _, w := range f.Words() {
		out = append(out, e^w)
	}
	slices.SortFunc(out, compareEffects)
	return out
}

// Runs returns the signs of each run in Yates order (A changes fastest), -1 for
// the first level. With lowRun, the signs of the generators are chosen so that
// one run has every factor at its first level: the untreated eggs.
func (f Fraction) Runs(lowRun bool) [][]int {
	var out [][]int
	for r := range 1 << f.Free {
		var signs []int
		for i := range f.Free {
			signs = append(signs, 2*(r>>i&1)-1)
		}
		for _, g := range f.Generators {
			s := 1
			for i := range f.Free {
				if g&(1<<i) != 0 {
					s *= signs[i]
				}
			}
			if lowRun && g.Order()%2 == 0 {
				s = -s
			}
			signs = append(signs, s)
		}
		out = append(out, signs)
	}
	return out
}

// Roman writes a resolution as designs are named.
func Roman(resolution int) string {
	return [...]string{"", "I", "II", "III", "IV", "V", "VI", "VII", "VIII"}[resolution]
}

// InWords says which effects of one or two factors the fraction confuses, with
// the factors' own names.
func (f Fraction) InWords(names []string) []string {
	out := []string{}
	n := f.Free + len(f.Generators)
	seen := map[Effect]bool{}
	for size := 1; size <= 2; size++ {
		for e := Effect(1); e < 1<<n; e++ {
			if e.Order() != size || seen[e] {
				continue
			}
			var twins []string
			for _, a := range f.Aliases(e) {
				if a.Order() <= 2 {
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

func effectInWords(e Effect, names []string) string {
	var out []string
	for i, n := range names {
		if e&(1<<i) != 0 {
			out = append(out, n)
		}
	}
	return strings.Join(out, " × ")
}

package scheme

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Generators, resolutions and word lengths as tabulated by statistics packages
// and NIST's Dataplot file DEXRES4; defining relations computed in R. An
// exhaustive search found no fraction of less aberration for 4/8, 5/8, 5/16,
// 6/8, 6/16, 6/32, 7/8, 7/16, 7/32, 8/16 and 8/64 factors/runs.
func TestCatalogue(t *testing.T) {
	tests := []struct {
		factors, free int
		resolution    string
		lengths       string // number of words of length 3, 4, ...
		words         string
	}{
		{3, 2, "III", "1", "ABC"},
		{4, 3, "IV", "0 1", "ABCD"},
		{5, 4, "V", "0 0 1", "ABCDE"},
		{5, 3, "III", "2 1 0", "ABD ACE BCDE"},
		{6, 5, "VI", "0 0 0 1", "ABCDEF"},
		{6, 4, "IV", "0 3 0 0", "ABCE ADEF BCDF"},
		{6, 3, "III", "4 3 0 0", "ABD ACE BCF DEF ABEF ACDF BCDE"},
		{7, 6, "VII", "0 0 0 0 1", "ABCDEFG"},
		{7, 5, "IV", "0 1 2 0 0", "CEFG ABCDF ABDEG"},
		{7, 4, "IV", "0 7 0 0 0", "ABCE ABFG ACDG ADEF BCDF BDEG CEFG"},
		{7, 3, "III", "7 7 0 0 1", "ABD ACE AFG BCF BEG CDG DEF ABCG ABEF ACDF ADEG BCDE BDFG CEFG ABCDEFG"},
		{8, 6, "V", "0 0 2 1 0 0", "ABCDG ABEFH CDEFGH"},
		{8, 5, "IV", "0 3 4 0 0 0", "ABCF ABDG CDFG ACEGH ADEFH BCDEH BEFGH"},
		{8, 4, "IV", "0 14 0 0 0 1", "ABCG ABDH ABEF ACDF ACEH ADEG AFGH BCDE BCFH BDFG BEGH CDGH CEFG DEFH ABCDEFGH"},
	}
	for _, tt := range tests {
		f, ok := FractionOf(tt.factors, tt.free)
		if !ok {
			t.Fatalf("no fraction of %d factors in 2^%d", tt.factors, tt.free)
		}
		if got := Roman(f.Resolution()); got != tt.resolution {
			t.Errorf("%d factors: resolution %s, want %s", tt.factors, got, tt.resolution)
		}
		lengths := make([]int, tt.factors-2)
		var words []string
		for _, w := range f.Words() {
			lengths[w.Order()-3]++
			words = append(words, w.String())
		}
		if got := strings.Trim(fmt.Sprint(lengths), "[]"); got != tt.lengths || strings.Join(words, " ") != tt.words {
			t.Errorf("%d factors: lengths %s, words %s", tt.factors, got, words)
		}
		for _, low := range []bool{false, true} {
			checkArray(t, f.Runs(low), tt.factors, low)
		}
	}
}

// checkArray: columns are balanced and orthogonal, no run repeats.
func checkArray(t *testing.T, runs [][]int, factors int, low bool) {
	t.Helper()
	seen := map[string]bool{}
	for _, r := range runs {
		seen[fmt.Sprint(r)] = true
	}
	if len(seen) != len(runs) {
		t.Errorf("%d factors: a run repeats", factors)
	}
	if low && !seen[fmt.Sprint(slices.Repeat([]int{-1}, factors))] {
		t.Errorf("%d factors: the all-low run is missing", factors)
	}
	for i := range factors {
		for j := range i + 1 {
			sum, single := 0, 0
			for _, r := range runs {
				sum += r[i] * r[j]
				single += r[i]
			}
			if single != 0 || (i == j && sum != len(runs)) || (i != j && sum != 0) {
				t.Errorf("%d factors: columns %d and %d have product %d, sum %d", factors, i, j, sum, single)
			}
		}
	}
}

// Alias chains by exact algebra.
func TestAliases(t *testing.T) {
	tests := []struct {
		factors, free int
		want          string
	}{
		{4, 3, "A=BCD B=ACD C=ABD D=ABC AB=CD AC=BD AD=BC"},
		{5, 3, "A=BD=CE=ABCDE B=AD=CDE=ABCE C=AE=BDE=ABCD D=AB=BCE=ACDE E=AC=BCD=ABDE BC=DE=ABE=ACD BE=CD=ABC=ADE"},
		{5, 4, "AB=CDE AC=BDE AD=BCE AE=BCD BC=ADE BD=ACE BE=ACD CD=ABE CE=ABD DE=ABC"},
	}
	for _, tt := range tests {
		f, _ := FractionOf(tt.factors, tt.free)
		for chain := range strings.FieldsSeq(tt.want) {
			first, rest, _ := strings.Cut(chain, "=")
			var got []string
			for _, a := range f.Aliases(ParseEffect(first)) {
				got = append(got, a.String())
			}
			if strings.Join(got, "=") != rest {
				t.Errorf("%s is aliased with %s, want %s", first, strings.Join(got, "="), rest)
			}
		}
	}
}

// Run order as published in design tables (Yates order, A fastest).
func TestRunOrder(t *testing.T) {
	signs := func(runs [][]int) string {
		var out []string
		for _, r := range runs {
			var b strings.Builder
			for _, s := range r {
				b.WriteByte("-.+"[s+1])
			}
			out = append(out, b.String())
		}
		return strings.Join(out, " ")
	}
	four, _ := FractionOf(4, 3)
	five, _ := FractionOf(5, 3)
	tests := []struct {
		f    Fraction
		want string
	}{
		{Fraction{Free: 3}, "--- +-- -+- ++- --+ +-+ -++ +++"},
		{four, "---- +--+ -+-+ ++-- --++ +-+- -++- ++++"},
		{five, "---++ +---- -+--+ ++-+- --++- +-+-+ -++-- +++++"},
	}
	for _, tt := range tests {
		if got := signs(tt.f.Runs(false)); got != tt.want {
			t.Errorf("runs %s, want %s", got, tt.want)
		}
	}
}

func TestAliasesInWords(t *testing.T) {
	f, _ := FractionOf(3, 2)
	got := f.InWords([]string{"drying", "cold length", "light"})
	want := []string{"the effect of drying cannot be told from cold length × light",
		"the effect of cold length cannot be told from drying × light", "the effect of light cannot be told from drying × cold length"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	five, _ := FractionOf(5, 4)
	if got := five.InWords([]string{"a", "b", "c", "d", "e"}); len(got) != 0 {
		t.Errorf("resolution V confuses %q", got)
	}
}

// The pilot plant of Box, Hunter and Hunter 1978: mean 64.25 and effects of
// temperature, concentration, catalyst and their products, runs in Yates order; four
// times these, and eight times the mean, are the last column of Yates's scheme.
func TestEffectsInYatesOrder(t *testing.T) {
	y := []float64{60, 72, 54, 68, 52, 83, 45, 80}
	runs := Fraction{Free: 3}.Runs(false)
	for _, tt := range []struct {
		effect       string
		want, column float64
	}{{"A", 23, 92}, {"B", -5, -20}, {"C", 1.5, 6}, {"AB", 1.5, 6}, {"AC", 10, 40}, {"BC", 0, 0}, {"ABC", 0.5, 2}} {
		var got float64
		for k, signs := range runs {
			s := 1
			for i := range 3 {
				if ParseEffect(tt.effect)&(1<<i) != 0 {
					s *= signs[i]
				}
			}
			got += float64(s) * y[k] / 4
		}
		if got != tt.want || 4*got != tt.column {
			t.Errorf("effect %s is %v, want %v", tt.effect, got, tt.want)
		}
	}
	sum := 0.0
	for _, v := range y {
		sum += v
	}
	if sum/8 != 64.25 || sum != 514 {
		t.Errorf("mean %v", sum/8)
	}
}

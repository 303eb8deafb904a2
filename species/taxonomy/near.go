package taxonomy

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Unknown is the error for a name on which there are no claims.
type Unknown struct {
	Asked string
	Near  []string // names known that are spelled much like it
	Known int      // how many names there are at all
}

func (e *Unknown) Error() string {
	switch {
	case e.Known == 0:
		return fmt.Sprintf("nothing is known of %q: the library has no claims yet, add papers with 'hatchlore ingest'", e.Asked)
	case len(e.Near) == 0:
		return fmt.Sprintf("nothing is known of %q: 'hatchlore species' lists the %s with claims", e.Asked, counted(e.Known, "name"))
	}
	return fmt.Sprintf("nothing is known of %q: did you mean %s?", e.Asked, either(e.Near))
}

// Ambiguous is the error for a shortened name that fits several.
type Ambiguous struct {
	Asked string
	Fits  []string
}

func (e *Ambiguous) Error() string {
	return fmt.Sprintf("%q can be %s: write the genus out", e.Asked, either(e.Fits))
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func either(names []string) string {
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// Near returns up to most of the known names that are spelled like name,
// nearest first. Names count as near up to one edit in four letters.
func Near(name string, known []string, most int) []string {
	type near struct {
		name string
		far  int
	}
	var out []near
	seen := map[string]bool{Fold(name): true}
	for _, k := range known {
		for _, whole := range []string{k, genusOf(k)} {
			f := Fold(whole)
			if seen[f] || f == "" || isGenus(whole) != isGenus(spelled(name)) {
				continue
			}
			seen[f] = true
			if d := distance(Fold(name), f, len(f)/4); d <= len(f)/4 {
				out = append(out, near{spelled(whole), d})
			}
		}
	}
	slices.SortFunc(out, func(a, b near) int { return cmp.Or(a.far-b.far, strings.Compare(a.name, b.name)) })
	var names []string
	for _, n := range out[:min(most, len(out))] {
		names = append(names, n.name)
	}
	return names
}

// Pair is two names that may be one, for the keeper to judge.
type Pair struct {
	A, B string
	Why  string
}

// Doubtful proposes pairs of species names that may be two spellings of one:
// the same genus, and epithets that differ in gender, in -i against -ii, or in
// one or two letters. Names already read as one are left out.
func (n *Names) Doubtful(taxa []string) []Pair {
	var names []string
	for _, t := range taxa {
		if c := n.Current(t); !isGenus(c) && c != "" {
			names = append(names, c)
		}
	}
	slices.Sort(names)
	names = slices.Compact(names)
	var out []Pair
	for i, a := range names {
		for _, b := range names[i+1:] {
			if why := alike(a, b); why != "" {
				out = append(out, Pair{a, b, why})
			}
		}
	}
	return out
}

func alike(a, b string) string {
	ga, ea, _ := strings.Cut(a, " ")
	gb, eb, _ := strings.Cut(b, " ")
	if len(ea) < 4 || len(eb) < 4 || strings.Contains(ea, " ") || strings.Contains(eb, " ") {
		return ""
	}
	switch d := distance(Fold(ga), Fold(gb), 2); {
	case d > 0 && d <= 2 && len(ga) > 5 && ea == eb:
		return "the genus differs by " + counted(d, "letter")
	case d > 0:
		return ""
	case stem(ea) == stem(eb):
		return "the epithets differ in their ending only"
	}
	if d := distance(ea, eb, 2); d <= min(2, len(ea)/5) {
		return "the epithets differ by " + counted(d, "letter")
	}
	return ""
}

// stem cuts the endings by which one epithet is declined or latinised.
func stem(epithet string) string {
	for _, e := range []string{"us", "um", "is", "ii", "i", "ae", "a", "e"} {
		if s, ok := strings.CutSuffix(epithet, e); ok && len(s) > 2 {
			return s
		}
	}
	return epithet
}

// distance counts the letters to insert, drop, change or swap with a neighbour
// to make a into b; above limit it may stop early with any larger number.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d > limit || -d > limit {
		return limit + 1
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		best := i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			best = min(best, row[j])
		}
		if best > limit {
			return limit + 1
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}

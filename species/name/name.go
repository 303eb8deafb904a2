// Package name finds the names of animals in running text, as printed: full
// binomials with open nomenclature, subgenus and authorship in the style of
// the zoological code, abbreviated genera, genera alone, and groups above the
// genus. A small catalogue knows the genera of large branchiopods and their
// neighbours; any other name is recognised by its form together with support
// from elsewhere in the paper.
//
// It refuses to say which names are valid or synonymous, to correct a
// spelling, and to take a capitalised word and its neighbour for a name on
// their form alone.
package name

import "strings"

// Rank says how much a name covers.
type Rank string

const (
	Species Rank = "species" // a binomial or trinomial, whole or abbreviated
	Genus   Rank = "genus"   // a genus alone, or with sp. or spp.
	Group   Rank = "group"   // anything above the genus, or a mixed group
)

// Name is one name in a text. Start and End are bytes into the text given,
// authorship left out; Printed is that stretch.
type Name struct {
	Start, End  int
	Printed     string
	Rank        Rank
	Genus       string // written out where the text allows it, else as printed ("B."); for a group its scientific name
	Subgenus    string
	Epithet     string // lower case
	Infra       string // subspecies or the like
	Open        string // "cf.", "aff.", "nr.", "sp.", "spp."
	Author      string // as printed, without outer brackets
	AuthorEnd   int    // end of the authorship in bytes; End when there is none
	Abbreviated bool   // the genus is shortened or left out in print
	Common      bool   // an everyday word ("nothos", "artemias", "cladocerans")
}

// Full returns the name with its genus written out, "" for a group: a
// statement about a mixed group is about no species.
func (n Name) Full() string {
	switch n.Rank {
	case Group:
		return ""
	case Genus:
		return n.Genus
	}
	parts := []string{n.Genus}
	if n.Open != "" {
		parts = append(parts, n.Open)
	}
	parts = append(parts, n.Epithet)
	if n.Infra != "" {
		parts = append(parts, n.Infra)
	}
	return strings.Join(parts, " ")
}

// Find returns the names in text, in order, none overlapping. Support for a
// name is looked for in text alone; with a whole paper at hand use [Scope].
func Find(text string) []Name { return NewScope("", text).Find(text) }

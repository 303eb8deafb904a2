// Package naming puts the names of animals into the forms in which pages print
// them and are found by them: whole, abbreviated, and part by part.
//
// It refuses to know which names there are, and which of them are one animal's: the
// index keeps the first, and the keeper tells the second.
package naming

import (
	"maps"
	"slices"
	"strings"

	"hatchlore/query/index/stem"
)

// Words cuts a name into its words, in lower case without accents. However an
// abbreviated genus was written, F. umbrosa, F.umbrosa or F umbrosa, it has its full
// stop.
func Words(name string) []string {
	words := strings.Fields(strings.ReplaceAll(stem.Fold(strings.ToLower(name)), ".", ". "))
	if len(words) > 1 && len([]rune(words[0])) == 1 {
		words[0] += "."
	}
	return words
}

// Terms returns what a page that names the given animals is found by: of each name
// the genus, the species, the whole, and the epithet, in lower case without accents,
// each once. A genus that nobody could write out ("F. umbrosa") gives the name as it
// stands. Open nomenclature keeps a species apart: "Ficta cf. umbrosa" is no Ficta
// umbrosa.
func Terms(names []string) []string { return slices.Sorted(maps.Keys(Counted(names))) }

// Counted returns the terms of names with how often each is there.
func Counted(names []string) map[string]int {
	out := map[string]int{}
	for _, n := range names {
		words := Words(n)
		own := map[string]bool{}
		for i := range words {
			own[strings.Join(words[:i+1], " ")] = true
		}
		if len(words) > 1 && !IsShort(words) {
			own[words[1]] = true
		}
		for term := range own {
			if !strings.HasSuffix(term, ".") {
				out[term]++
			}
		}
	}
	return out
}

// IsShort reports whether words are a name with its genus shortened to one or
// two letters and a full stop, as in "f. umbrosa".
func IsShort(words []string) bool {
	letters, ok := strings.CutSuffix(words[0], ".")
	n := len([]rune(letters))
	return ok && len(words) > 1 && n > 0 && n <= 2
}

// Short returns a species' name with its genus shortened to a letter, ""
// for a genus.
func Short(name string) string {
	genus, rest, ok := strings.Cut(name, " ")
	if !ok || strings.HasSuffix(genus, ".") {
		return ""
	}
	return string([]rune(genus)[:1]) + ". " + rest
}

// Package naming puts the names of animals into the forms in which pages print
// them and are found by them: whole, abbreviated, and part by part.
//
// It refuses to know which names there are, and which of them are one animal's: the
// index keeps the first, and the keeper tells the second.
package naming

import (
	"slices"
	"strings"

	"hatchlore/query/index/stem"
)

// Words cuts a name into its words, in lower case without accents.
func Words(name string) []string { return strings.Fields(stem.Fold(strings.ToLower(name))) }

// Terms returns what pages that name the given animals are found by: of
// each name the genus, the species, the whole, and the epithet, in lower case
// without accents. A genus that nobody could write out ("F. umbrosa") gives the
// name as it stands. Open nomenclature keeps a species apart: "Ficta cf.
// umbrosa" is no Ficta umbrosa.
func Terms(names []string) []string {
	var out []string
	add := func(term string) {
		if term != "" && !strings.HasSuffix(term, ".") && !slices.Contains(out, term) {
			out = append(out, term)
		}
	}
	for _, n := range names {
		words := Words(n)
		for i := range words {
			add(strings.Join(words[:i+1], " "))
		}
		if len(words) > 1 && !IsShort(words) {
			add(words[1])
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

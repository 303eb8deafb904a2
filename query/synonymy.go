package query

import (
	"slices"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/species"
)

// synonymy is the keeper's aliases, read both ways.
type synonymy struct {
	names   *species.Names
	aliases []store.Alias
}

// of returns the other names of the animal, or of the animals of the genus, in
// lower case, sorted. A short name ("f. umbrosa") may stand for any that fits.
func (s synonymy) of(name string) []string {
	name = strings.ToLower(name)
	if letter, rest, ok := strings.Cut(name, ". "); ok {
		return s.ofShort(letter, rest)
	}
	var out []string
	for _, other := range append(s.moved(name), s.listed(name)...) {
		if other = strings.ToLower(other); other != name {
			out = append(out, other)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// ofShort returns the other names of what "l. epithet" stands for among the
// names in aliases.
func (s synonymy) ofShort(letter, rest string) []string {
	var out []string
	for _, a := range s.aliases {
		for _, n := range []string{a.Old, a.New} {
			n = strings.ToLower(n)
			if !strings.Contains(n, " ") {
				n += " " + rest
			}
			if strings.HasPrefix(n, letter) && strings.HasSuffix(n, " "+rest) {
				out = append(out, s.of(n)...)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// listed returns the names in aliases that are read as name, or as one of its
// genus.
func (s synonymy) listed(name string) []string {
	current := strings.ToLower(s.names.Current(name))
	var out []string
	for _, a := range s.aliases {
		for _, n := range []string{a.Old, a.New} {
			read := strings.ToLower(s.names.Current(n))
			if read == current || within(name, read) {
				out = append(out, n)
			}
			if within(name, strings.ToLower(n)) {
				out = append(out, read) // it left the genus
			}
		}
	}
	return out
}

// moved returns the name under the other genera that are read as its own.
func (s synonymy) moved(name string) []string {
	genus, rest, _ := strings.Cut(name, " ")
	current := s.names.Current(genus)
	var out []string
	for _, a := range s.aliases {
		for _, g := range []string{a.Old, a.New} {
			if !strings.Contains(g, " ") && strings.EqualFold(s.names.Current(g), current) {
				out = append(out, strings.TrimSpace(g+" "+rest))
			}
		}
	}
	return out
}

// within reports whether name is a species of the genus.
func within(genus, name string) bool { return strings.HasPrefix(name, genus+" ") }

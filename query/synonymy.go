package query

import (
	"slices"
	"strings"

	"hatchlore/evidence/store"
	"hatchlore/species/taxonomy"
)

// synonymy is the keeper's aliases, read both ways.
type synonymy struct {
	names *taxonomy.Names
	read  []reading // of both names of each alias
}

// reading is a name in aliases and what it is read as.
type reading struct {
	name    string
	current string // in lower case
}

func newSynonymy(names *taxonomy.Names, aliases []store.Alias) synonymy {
	s := synonymy{names: names}
	for _, a := range aliases {
		for _, n := range []string{a.Old, a.New} {
			s.read = append(s.read, reading{n, strings.ToLower(names.Current(n))})
		}
	}
	return s
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
	for _, r := range s.read {
		n := strings.ToLower(r.name)
		if !strings.Contains(n, " ") {
			n += " " + rest
		}
		if strings.HasPrefix(n, letter) && strings.HasSuffix(n, " "+rest) {
			out = append(out, s.of(n)...)
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
	for _, r := range s.read {
		if r.current == current || within(name, r.current) {
			out = append(out, r.name)
		}
		if within(name, strings.ToLower(r.name)) {
			out = append(out, r.current) // it left the genus
		}
	}
	return out
}

// moved returns the name under the other genera that are read as its own.
func (s synonymy) moved(name string) []string {
	genus, rest, _ := strings.Cut(name, " ")
	current := s.names.Current(genus)
	var out []string
	for _, r := range s.read {
		if !strings.Contains(r.name, " ") && strings.EqualFold(r.current, current) {
			out = append(out, strings.TrimSpace(r.name+" "+rest))
		}
	}
	return out
}

// within reports whether name is a species of the genus.
func within(genus, name string) bool { return strings.HasPrefix(name, genus+" ") }

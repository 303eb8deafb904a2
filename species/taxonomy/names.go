// Package taxonomy says which claims are on a species or genus, by whatever name
// they were printed: aliases, shortened and everyday names, subspecies, congeners.
//
// It refuses to merge names by likeness: near spellings are offered to the keeper
// and never taken.
package taxonomy

import (
	"fmt"
	"strings"
)

// Alias says that one name is read as another: a synonym, or a spelling that
// the keeper judged to be the same species.
type Alias struct {
	Old string `json:"old"`
	New string `json:"new"`
}

// Names resolves the names of claims. The zero value knows no synonyms.
type Names struct {
	current map[string]string // folded old name → new name
}

// NewNames makes a resolver of aliases. An alias of a name to itself and one
// that would close a circle are errors.
func NewNames(aliases []Alias) (*Names, error) {
	n := &Names{current: map[string]string{}}
	for _, a := range aliases {
		from, to := spelled(a.Old), spelled(a.New)
		switch {
		case from == "" || to == "":
			return nil, fmt.Errorf("an alias needs two names, not %q and %q", a.Old, a.New)
		case Fold(n.Current(to)) == Fold(from):
			return nil, fmt.Errorf("%s cannot be an alias of %s, which is read as %s itself", from, to, from)
		}
		n.current[Fold(from)] = to
	}
	return n, nil
}

// Current returns the name under which taxon is read: its own in tidy
// spelling, or the last of its chain of aliases. An alias of a genus carries
// the species of that genus that have none of their own.
func (n *Names) Current(taxon string) string {
	taxon = spelled(taxon)
	if n == nil {
		return taxon
	}
	for range len(n.current) {
		next, ok := n.current[Fold(taxon)]
		if !ok {
			genus, rest, _ := strings.Cut(taxon, " ")
			if next, ok = n.current[Fold(genus)]; ok && rest != "" {
				next, _, _ = strings.Cut(next, " ")
				next += " " + rest
			}
		}
		if !ok {
			break
		}
		taxon = next
	}
	return taxon
}

// spelled tidies blanks and capitals: "triops  Longicaudatus" is "Triops
// longicaudatus".
func spelled(taxon string) string {
	if isTidy(taxon) {
		return taxon
	}
	words := strings.Fields(strings.ToLower(taxon))
	if len(words) == 0 {
		return ""
	}
	first := []rune(words[0])
	words[0] = strings.ToUpper(string(first[:1])) + string(first[1:])
	return strings.Join(words, " ")
}

// isTidy reports whether a name is a word with a capital and words without,
// one blank between them, no accents: as most names are.
func isTidy(taxon string) bool {
	for i := range len(taxon) {
		c := taxon[i]
		switch {
		case i == 0 && 'A' <= c && c <= 'Z':
		case i > 0 && 'a' <= c && c <= 'z':
		case i > 0 && c == ' ' && taxon[i-1] != ' ' && i < len(taxon)-1:
		default:
			return false
		}
	}
	return taxon != ""
}

// Fold is a name in the form in which names are compared.
func Fold(taxon string) string { return strings.ToLower(spelled(taxon)) }

// genusOf returns the first word of a name.
func genusOf(taxon string) string {
	g, _, _ := strings.Cut(taxon, " ")
	return g
}

// isGenus reports whether a name is a genus alone.
func isGenus(taxon string) bool { return taxon != "" && !strings.Contains(taxon, " ") }

// covers reports whether a statement on taxon is one on asked: the same name,
// a species of the genus, a subspecies of the species. Both are current names.
// "Triops cf. apus" is no Triops apus, but a Triops.
func covers(asked, taxon string) bool {
	a, t := Fold(asked), Fold(taxon)
	return a == t || strings.HasPrefix(t, a+" ")
}

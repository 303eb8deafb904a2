// Package witness says whose finding a claim is. It knows papers and how they are
// cited, which of them a second-hand claim repeats, which two tell of one
// experiment, and sorts claims into voices: a source counts once, however many
// papers speak for it.
//
// It refuses to count a citation as a witness, and to judge who is right.
package witness

import (
	"strconv"
	"strings"

	"hatchlore/species/fulltext"
)

// Paper is what must be known of a paper to weigh its claims.
type Paper struct {
	Key      string
	Authors  []string // "Family, Given" or a family name, in the paper's order
	Year     int      // 0 when unknown
	Title    string
	Volume   string // of its journal
	Extent   string // its pages there, as printed
	DOI      string
	Citation string             // as shown; "" makes one of authors and year
	Places   []fulltext.Origin  // where its eggs may have come from, as named in the paper
	Handled  []fulltext.Handled // what it did with them that no factor covers
	SameAs   string             // key of the paper that published the same experiment first, if any; see [Twins]
	SameWhy  string             // what speaks for it
	Judged   bool               // the keeper said whether it publishes an experiment again
}

// Library is the papers by their citation keys.
type Library map[string]Paper

// Cite returns a short citation, such as "Wrenfield 1996"; the key for a paper
// that is not in the library.
func (l Library) Cite(key string) string {
	p := l[key]
	switch {
	case p.Citation != "":
		return p.Citation
	case len(p.Authors) == 0:
		return key
	}
	who := family(p.Authors[0])
	switch len(p.Authors) {
	case 1:
	case 2:
		who += " & " + family(p.Authors[1])
	default:
		who += " et al."
	}
	if p.Year == 0 {
		return who
	}
	return who + " " + strconv.Itoa(p.Year)
}

func family(author string) string {
	f, _, _ := strings.Cut(author, ",")
	return strings.TrimSpace(f)
}

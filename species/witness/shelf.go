package witness

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/ingest/reference"
)

// Shelf is a library with what was already looked up in it. It serves one call
// and is not shared.
type Shelf struct {
	Library
	known   *reference.Catalogue // the library's papers; nil until one is looked for
	missing reference.Catalogue  // works that are cited and not in the library
	taken   map[string]bool      // their names
	works   map[string][]Work    // by a claim's citation and entries
}

// Shelve returns the shelf of a library.
func Shelve(l Library) *Shelf {
	return &Shelf{Library: l, taken: map[string]bool{}, works: map[string][]Work{}}
}

// Echoes returns the key of the paper in the library that a second-hand claim
// cites, the oldest of several; "" when there is none.
func (s *Shelf) Echoes(c evidence.Claim) string {
	if keys := s.Sources(c); len(keys) > 0 {
		return keys[0]
	}
	return ""
}

// Sources returns the keys of the papers in the library that a second-hand
// claim cites, the oldest first; see [Shelf.Works].
func (s *Shelf) Sources(c evidence.Claim) []string {
	var found []string
	for _, w := range s.Works(c) {
		if w.Paper != "" && !slices.Contains(found, w.Paper) {
			found = append(found, w.Paper)
		}
	}
	slices.SortFunc(found, func(a, b string) int {
		return cmp.Or(s.Library[a].Year-s.Library[b].Year, strings.Compare(a, b))
	})
	return found
}

// Witness is the paper that counts for key: the first publication of the same
// experiment.
func (s *Shelf) Witness(key string) string {
	for range len(s.Library) {
		p, ok := s.Library[key]
		if !ok || p.SameAs == "" || p.SameAs == key {
			break
		}
		key = p.SameAs
	}
	return key
}

// mostCited is how many papers a sentence names before it counts the rest.
const mostCited = 4

// Cites joins the citations of papers: "A 1990, B 1991 and C 1992".
func (s *Shelf) Cites(keys []string) string {
	var out []string
	for _, k := range keys {
		out = append(out, s.Cite(k))
	}
	return Some(out)
}

// Some lists citations, and counts those beyond what a sentence can name.
func Some(citations []string) string {
	if len(citations) > mostCited {
		rest := fmt.Sprintf("%d others", len(citations)-mostCited+1)
		citations = append(slices.Clone(citations[:mostCited-1]), rest)
	}
	return Listed(citations)
}

// Listed joins words: "a, b and c".
func Listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

package index

import (
	"fmt"
	"slices"
	"strings"

	bleveindex "github.com/blevesearch/bleve_index_api"
)

// minMisspelt is the length below which one letter off is another word.
const minMisspelt = 5

// NamesLike returns the words in the names of taxa on the library's pages that
// are one letter off word (one more, one less, one other), in order; none when
// word itself is such a name or has fewer than five letters.
func (ix *Index) NamesLike(word string) ([]string, error) {
	word = fold(strings.ToLower(word))
	if len(word) < minMisspelt {
		return nil, nil
	}
	var out []string
	err := guard(func() error {
		i, err := ix.bleve.Advanced()
		if err != nil {
			return err
		}
		r, err := i.Reader()
		if err != nil {
			return err
		}
		defer r.Close()
		fuzzy, ok := r.(bleveindex.IndexReaderFuzzy)
		if !ok {
			return fmt.Errorf("%w (no search for similar words)", ErrOutdated)
		}
		dict, err := fuzzy.FieldDictFuzzy(fieldTaxa, word, 1, "")
		if err != nil {
			return err
		}
		defer dict.Close()
		for {
			e, err := dict.Next()
			if err != nil || e == nil {
				return err
			}
			out = append(out, strings.Clone(e.Term))
		}
	})
	if err != nil || slices.Contains(out, word) {
		return nil, err
	}
	slices.Sort(out)
	return slices.Compact(out), nil
}

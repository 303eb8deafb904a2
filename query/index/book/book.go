// Package book is the index's book of names: what may be meant by a name that was
// typed, and which names are spelt like a word.
//
// It refuses to merge names by their likeness: which are one animal's the caller
// tells.
package book

import (
	"errors"
	"slices"
	"strings"

	bleveindex "github.com/blevesearch/bleve_index_api"

	"hatchlore/query/index/naming"
	"hatchlore/query/index/needle"
	"hatchlore/query/index/stem"
)

// Book looks names up among the terms of an index.
type Book struct {
	Terms bleveindex.IndexReader
	Field string // that holds what [naming.Terms] makes of the names of a page
}

// Meaning returns what may be meant by words as typed. same tells the other names
// of an animal.
func (b Book) Meaning(typed string, same func(string) []string) (needle.Meaning, error) {
	words := naming.Words(typed)
	if len(words) == 0 {
		return needle.Meaning{}, nil
	}
	name := strings.Join(words, " ")
	names := []string{name}
	var m needle.Meaning
	if naming.IsShort(words) {
		written, err := b.written(words)
		if err != nil {
			return needle.Meaning{}, err
		}
		if names = append(written, folded(same(name))...); len(names) == 0 {
			return needle.Meaning{}, nil
		}
		m.Others = names
	}
	for _, n := range names {
		m.Others = append(m.Others, folded(same(n))...)
	}
	for _, n := range append(names, m.Others...) {
		if err := b.addTerms(&m, n); err != nil {
			return needle.Meaning{}, err
		}
	}
	return m, nil
}

func folded(names []string) []string {
	var out []string
	for _, n := range names {
		out = append(out, stem.Fold(strings.ToLower(n)))
	}
	return out
}

// addTerms adds what a name written out is found by: itself, and the short
// forms of it or, of a genus, of its species.
func (b Book) addTerms(m *needle.Meaning, name string) error {
	terms, err := b.startingWith(name)
	if err != nil {
		return err
	}
	for _, t := range terms {
		rest, ok := strings.CutPrefix(t, name)
		if !ok || rest != "" && rest[0] != ' ' {
			continue // another word that starts alike
		}
		m.Known = true
		if rest == "" {
			m.Terms = append(m.Terms, t)
		}
		if s := naming.Short(t); s != "" && !slices.Contains(m.Short, s) {
			// As a term it stands for pages on which nobody could tell the genus.
			m.Short, m.Terms = append(m.Short, s), append(m.Terms, s)
		}
	}
	return nil
}

// written returns the names in the index that a short name may stand for.
func (b Book) written(words []string) ([]string, error) {
	genus := strings.TrimSuffix(words[0], ".")
	terms, err := b.startingWith(genus)
	if err != nil {
		return nil, err
	}
	rest := " " + strings.Join(words[1:], " ")
	return slices.DeleteFunc(terms, func(t string) bool {
		return !strings.HasSuffix(t, rest) || strings.Count(t, " ") != len(words)-1 || strings.HasSuffix(strings.Fields(t)[0], ".")
	}), nil
}

// minMisspelt is the length below which one letter off is another word.
const minMisspelt = 5

// Like returns the genera and epithets that are one letter off word (one more,
// one less, one other), in order, genera with a capital; none when word itself is
// such a name or has fewer than five letters.
func (b Book) Like(word string) ([]string, error) {
	word = stem.Fold(strings.ToLower(word))
	if len(word) < minMisspelt {
		return nil, nil
	}
	near, err := b.near(word)
	if err != nil || slices.Contains(near, word) {
		return nil, err
	}
	for i, n := range near {
		species, err := b.startingWith(n + " ")
		if err != nil {
			return nil, err
		}
		if len(species) > 0 {
			near[i] = strings.ToUpper(n[:1]) + n[1:]
		}
	}
	return near, nil
}

// near returns the terms at most one letter off word, in order.
func (b Book) near(word string) ([]string, error) {
	fuzzy, ok := b.Terms.(bleveindex.IndexReaderFuzzy)
	if !ok {
		return nil, errors.New("the search index does not look for similar words")
	}
	out, err := Collect(fuzzy.FieldDictFuzzy(b.Field, word, 1, ""))
	slices.Sort(out)
	return slices.Compact(out), err
}

// startingWith returns the terms that start with prefix, in order.
func (b Book) startingWith(prefix string) ([]string, error) {
	return Collect(b.Terms.FieldDictPrefix(b.Field, []byte(prefix)))
}

// Collect reads a list of terms to its end. The engine's own functions that list
// terms keep a lock when they come upon damage.
func Collect(dict bleveindex.FieldDict, err error) ([]string, error) {
	if err != nil {
		return nil, err
	}
	defer dict.Close()
	var out []string
	for {
		e, err := dict.Next()
		if err != nil || e == nil {
			return out, err
		}
		out = append(out, strings.Clone(e.Term))
	}
}

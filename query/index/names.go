package index

import (
	bleveindex "github.com/blevesearch/bleve_index_api"

	"hatchlore/query/index/book"
	"hatchlore/query/index/needle"
	"hatchlore/query/index/question"
)

// needles returns the needles of a question, its names looked up in the index.
func (ix *Index) needles(q question.Question, same func(string) []string) (out []needle.Needle, err error) {
	if same == nil {
		same = func(string) []string { return nil }
	}
	err = ix.read(func(r bleveindex.IndexReader) error {
		names := book.Book{Terms: r, Field: fieldName}
		out, err = needle.Of(q, func(typed string) (needle.Meaning, error) { return names.Meaning(typed, same) })
		return err
	})
	return out, err
}

// NamesLike returns the names on the library's pages that are spelt like word, as
// [book.Book.Like] tells them.
func (ix *Index) NamesLike(word string) (out []string, err error) {
	err = ix.ask(func() error {
		return ix.read(func(r bleveindex.IndexReader) error {
			out, err = book.Book{Terms: r, Field: fieldName}.Like(word)
			return err
		})
	})
	return out, err
}

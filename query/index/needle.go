package index

import (
	"slices"
	"strings"

	"hatchlore/query/index/question"
	"hatchlore/query/index/stem"
)

// needle is one thing to find or to leave out: a clause with all the forms of
// its names. A page has it in its words, or when it names one of the names.
type needle struct {
	without bool
	any     []question.Item
	names   []string        // as [nameTerms] puts them
	shown   []question.Item // what else is marked on a page that was found by a name
}

// maxNameWords is how many words in a row are tried as one name.
const maxNameWords = 3

// nameBook tells what may be meant by a name that was typed.
type nameBook func(typed string) (meaning, error)

// needlesOf returns the needles of q. Words in a row that the book has as one
// name become one needle.
func needlesOf(q question.Question, book nameBook) ([]needle, error) {
	var out []needle
	for i := 0; i < len(q); {
		nd, n, err := nameAt(q[i:], book)
		if err != nil {
			return nil, err
		}
		if n == 0 {
			if nd, err = single(q[i], book); err != nil {
				return nil, err
			}
			n = 1
		}
		out = append(out, nd)
		i += n
	}
	return out, nil
}

// nameAt returns the longest run of at least two plain words at the front of q
// that is a name, and its length; 0 when there is none.
func nameAt(q question.Question, book nameBook) (needle, int, error) {
	for n := min(maxNameWords, len(q)); n > 1; n-- {
		run := plainRun(q[:n])
		if len(run) < n {
			continue
		}
		text := strings.Join(run, " ")
		m, err := book(text)
		if err != nil {
			return needle{}, 0, err
		}
		if m.known {
			nd := needle{without: q[0].Without, any: []question.Item{{Text: text, Quoted: true}}}
			return nd.meaning(m), n, nil
		}
	}
	return needle{}, 0, nil
}

// plainRun returns the words of q's clauses up to the first that is more than
// one plain word.
func plainRun(q question.Question) []string {
	var run []string
	for _, c := range q {
		if c.Without || len(c.Any) != 1 || c.Any[0].Quoted {
			break
		}
		run = append(run, c.Any[0].Text)
	}
	return run
}

func single(c question.Clause, book nameBook) (needle, error) {
	nd := needle{without: c.Without, any: c.Any}
	for _, it := range c.Any {
		if it.Quoted {
			continue // as it stands
		}
		m, err := book(it.Text)
		if err != nil {
			return needle{}, err
		}
		nd = nd.meaning(m)
	}
	return nd, nil
}

func (n needle) meaning(m meaning) needle {
	n.any = slices.Clone(n.any)
	for _, o := range m.others {
		if question.HasWord(o) {
			n.any = append(n.any, question.Item{Text: o, Quoted: true})
		}
	}
	n.names = append(n.names, m.terms...)
	for _, s := range m.short {
		n.shown = append(n.shown, question.Item{Text: s, Quoted: true})
	}
	return n
}

// sequence is words side by side: at each place the terms that will do, none
// where a very common word stands that is not looked up.
type sequence [][]string

// sequences returns what n is looked up by in a's language. common is true
// when an item that was not quoted is nothing but very common words.
func (n needle) sequences(a *stem.Analyzer) (out []sequence, common bool) {
	return sequencesOf(n.any, a)
}

// marked returns what is marked of n on a page in a's language.
func (n needle) marked(a *stem.Analyzer) []sequence {
	out, _ := sequencesOf(append(slices.Clone(n.any), n.shown...), a)
	return out
}

func sequencesOf(items []question.Item, a *stem.Analyzer) (out []sequence, common bool) {
	for _, it := range items {
		var s sequence
		first, last := -1, 0
		stem.Words(it.Text, func(w stem.Word) {
			for len(s) < w.Position-1 {
				s = append(s, nil) // a gap, of which there is none in what is typed
			}
			terms := a.Terms(w)
			s = append(s, terms)
			if len(terms) > 0 {
				if last = len(s); first < 0 {
					first = last - 1
				}
			}
		})
		if first >= 0 {
			out = append(out, s[first:last])
		} else if !it.Quoted {
			common = true
		}
	}
	return out, common
}

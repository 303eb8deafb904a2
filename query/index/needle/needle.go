// Package needle turns a question into what is looked for, and finds it again in the
// text of a page: needles, each a clause of the question with all the forms of the
// names in it.
//
// It refuses to know which names there are: a book that the caller brings tells what
// may be meant by one.
package needle

import (
	"slices"
	"strings"

	"hatchlore/query/index/question"
	"hatchlore/query/index/stem"
)

// Needle is one thing to find or to leave out: a clause with all the forms of
// its names. A page has it in its words, or when it names one of Names.
type Needle struct {
	Typed   string   // what it was made of, as [question.Item] prints it
	Without bool     // a page must not have it
	Better  bool     // a page need not have it, and is the better for it
	Named   bool     // it is a name, and nothing else
	Names   []string // as naming.Terms puts them
	any     []question.Item
	shown   []question.Item // what else is marked on a page that was found by a name
}

// Meaning is what may be meant by a name.
type Meaning struct {
	Known  bool     // a page has the name, or another for it
	Terms  []string // of naming.Terms: a page that has one names the animal
	Others []string // other names, to be found in the text as well
	Short  []string // abbreviated forms, that pages with the terms may print
}

// Book tells what may be meant by a name that was typed.
type Book func(typed string) (Meaning, error)

// maxNameWords is how many words in a row are tried as one name.
const maxNameWords = 3

// Of returns the needles of q. Words in a row that the book has as one
// name become one needle. A number and what stands beside it, as in 15 °C or pH 7,
// make a further one: a page that has them side by side is the better for it.
func Of(q question.Question, book Book) ([]Needle, error) {
	var out []Needle
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
	return append(out, besides(q)...), nil
}

// besides returns what is better side by side: each two words in a row of which one
// is a number.
func besides(q question.Question) []Needle {
	var out []Needle
	for i := range q {
		run := plainRun(q[i:min(i+2, len(q))])
		if len(run) == 2 && (stem.IsDigitAt(run[0], 0) || stem.IsDigitAt(run[1], 0)) {
			it := question.Item{Text: strings.Join(run, " "), Quoted: true}
			out = append(out, Needle{Typed: it.String(), Better: true, any: []question.Item{it}})
		}
	}
	return out
}

// nameAt returns the longest run of at least two plain words at the front of q
// that is a name, and its length; 0 when there is none.
func nameAt(q question.Question, book Book) (Needle, int, error) {
	for n := min(maxNameWords, len(q)); n > 1; n-- {
		run := plainRun(q[:n])
		if len(run) < n {
			continue
		}
		text := strings.Join(run, " ")
		m, err := book(text)
		if err != nil {
			return Needle{}, 0, err
		}
		if m.Known {
			nd := Needle{Typed: text, Named: true, any: []question.Item{{Text: text, Quoted: true}}}
			return nd.meant(m), n, nil
		}
	}
	return Needle{}, 0, nil
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

func single(c question.Clause, book Book) (Needle, error) {
	nd := Needle{Typed: question.Question{{Any: c.Any}}.String(), Without: c.Without, any: c.Any}
	for _, it := range c.Any {
		if it.Quoted {
			continue // as it stands
		}
		m, err := book(it.Text)
		if err != nil {
			return Needle{}, err
		}
		nd = nd.meant(m)
		nd.Named = m.Known && len(c.Any) == 1
	}
	return nd, nil
}

// meant adds what may be meant by a name in n.
func (n Needle) meant(m Meaning) Needle {
	n.any = slices.Clone(n.any)
	for _, o := range m.Others {
		if question.HasWord(o) {
			n.any = append(n.any, question.Item{Text: o, Quoted: true})
		}
	}
	n.Names = append(n.Names, m.Terms...)
	for _, s := range m.Short {
		n.shown = append(n.shown, question.Item{Text: s, Quoted: true})
	}
	return n
}

// Sequence is words side by side: at each place the terms that will do, none
// where a very common word stands that is not looked up.
type Sequence [][]string

// Sequences returns what n is looked up by in a's language. common is true
// when an item that was not quoted is nothing but very common words.
func (n Needle) Sequences(a *stem.Analyzer) (out []Sequence, common bool) {
	return sequencesOf(n.any, a)
}

// marked returns what is marked of n on a page in a's language.
func (n Needle) marked(a *stem.Analyzer) []Sequence {
	out, _ := sequencesOf(append(slices.Clone(n.any), n.shown...), a)
	return out
}

func sequencesOf(items []question.Item, a *stem.Analyzer) (out []Sequence, common bool) {
	for _, it := range items {
		var s Sequence
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

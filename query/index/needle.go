package index

import (
	"strings"
)

// needle is one thing to find or to leave out: a clause with the alternatives
// of its names.
type needle struct {
	without bool
	any     []Item
}

// maxNameWords is how many words in a row are tried as one name.
const maxNameWords = 3

// needlesOf returns the needles of q. Words in a row that names holds as one
// name become one needle.
func needlesOf(q Question, names map[string][]string) []needle {
	var out []needle
	for i := 0; i < len(q); {
		text, n := nameAt(q[i:], names)
		if n == 0 {
			out = append(out, single(q[i], names))
			i++
			continue
		}
		nd := needle{without: q[i].Without, any: []Item{{Text: text, Quoted: n > 1}}}
		out = append(out, nd.with(names[strings.ToLower(text)]))
		i += n
	}
	return out
}

// nameAt returns the longest run of at least two plain words at the front of q
// that is a name, and its length; 0 when there is none.
func nameAt(q Question, names map[string][]string) (string, int) {
	for n := min(maxNameWords, len(q)); n > 1; n-- {
		var run []string
		for _, c := range q[:n] {
			if c.Without || len(c.Any) != 1 || c.Any[0].Quoted {
				break
			}
			run = append(run, c.Any[0].Text)
		}
		text := strings.Join(run, " ")
		if _, ok := names[strings.ToLower(text)]; ok && len(run) == n {
			return text, n
		}
	}
	return "", 0
}

func single(c Clause, names map[string][]string) needle {
	nd := needle{without: c.Without, any: c.Any}
	for _, it := range c.Any {
		nd = nd.with(names[strings.ToLower(it.Text)])
	}
	return nd
}

func (n needle) with(alternatives []string) needle {
	n.any = append([]Item{}, n.any...)
	for _, a := range alternatives {
		if hasWord(a) {
			n.any = append(n.any, Item{Text: a, Quoted: true})
		}
	}
	return n
}

// sequence is words side by side: at each place the terms that will do, none
// where a very common word stands that is not looked up.
type sequence [][]string

// sequences returns what n is looked up by in a's language. common is true
// when an item that was not quoted is nothing but very common words.
func (n needle) sequences(a *analyzer) (out []sequence, common bool) {
	for _, it := range n.any {
		var s sequence
		first, last := -1, 0
		words(it.Text, func(w word) {
			for len(s) < w.position-1 {
				s = append(s, nil) // a gap, of which there is none in what is typed
			}
			terms := a.terms(w)
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

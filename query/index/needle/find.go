package needle

import (
	"slices"
	"unicode/utf8"

	"hatchlore/query/index/stem"
)

// Place is a place on a page that has a needle.
type Place struct {
	Start, End int // bytes
	Needle     int // its number in the question
}

// Finder finds needles in the texts of pages, one after the other.
type Finder struct {
	needles []Needle
	by      map[*stem.Analyzer]*starts
	all     []stem.Word // of the page in hand
}

// NewFinder returns a Finder of needles.
func NewFinder(needles []Needle) *Finder {
	return &Finder{needles: needles, by: map[*stem.Analyzer]*starts{}}
}

// starts is what may start a needle on a page in one language.
type starts struct {
	terms   map[string][]candidate
	letters [utf8.RuneSelf]bool // that a term starts with
}

type candidate struct {
	needle int
	seq    Sequence
}

func (f *Finder) startsIn(a *stem.Analyzer) *starts {
	if s, ok := f.by[a]; ok {
		return s
	}
	out := &starts{terms: map[string][]candidate{}}
	for i, n := range f.needles {
		if n.Without {
			continue
		}
		for _, s := range n.marked(a) {
			for _, term := range s[0] {
				out.terms[term] = append(out.terms[term], candidate{i, s})
				if term[0] < utf8.RuneSelf {
					out.letters[term[0]] = true
				}
			}
		}
	}
	f.by[a] = out
	return out
}

// Places returns where the needles stand in text, in order. Those that a page must
// not have are not looked for.
func (f *Finder) Places(text string, a *stem.Analyzer) []Place {
	starts := f.startsIn(a)
	if len(starts.terms) == 0 {
		return nil
	}
	f.all = f.all[:0]
	stem.Words(text, func(w stem.Word) { f.all = append(f.all, w) })
	var out []Place
	for i, w := range f.all {
		// Stems differ from their words at the end. Most words are done with
		// here.
		if c := w.Text[0]; c < utf8.RuneSelf && !starts.letters[c] {
			continue
		}
		for _, term := range a.Terms(w) {
			for _, s := range starts.terms[term] {
				if matches(f.all[i:], a, s.seq) {
					out = append(out, Place{w.Start, f.all[i+len(s.seq)-1].End, s.needle})
				}
			}
		}
	}
	return slices.Compact(out)
}

// matches reports whether the words at the front of all are those of s.
func matches(all []stem.Word, a *stem.Analyzer, s Sequence) bool {
	if len(all) < len(s) {
		return false
	}
	for i, slot := range s {
		if all[i].Position != all[0].Position+i {
			return false
		}
		if len(slot) > 0 && !slices.ContainsFunc(a.Terms(all[i]), func(t string) bool { return slices.Contains(slot, t) }) {
			return false
		}
	}
	return true
}

// Lacking returns what a page must have and stands at none of places, as typed.
func (f *Finder) Lacking(places []Place) []string {
	var out []string
	for i, n := range f.needles {
		if !n.Without && !n.Better && !slices.ContainsFunc(places, func(p Place) bool { return p.Needle == i }) {
			out = append(out, n.Typed)
		}
	}
	return out
}

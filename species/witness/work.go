package witness

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/ingest/citation"
	"hatchlore/ingest/reference"
)

// Work is a work that a second-hand claim names as its source.
type Work struct {
	Citation string   `json:"citation"` // "Wrenfield 1996"
	Printed  string   `json:"printed"`  // its entry in the paper's own list; "" where that was not found
	Paper    string   `json:"paper"`    // its key in the library; "" where it is not there
	Rivals   []string `json:"rivals"`   // keys in the library of which it could be one, where nothing decides; never nil
	Self     bool     `json:"self"`     // the entry is the citing paper itself

	record reference.Record
	by     reference.Way // by what it was found in the library
}

// Standing says whether a source is in the library.
func (s Work) Standing() string {
	switch {
	case s.Self:
		return "which is this paper itself"
	case s.Paper != "":
		return "in the library"
	case len(s.Rivals) > 0:
		return "in the library perhaps as " + strings.Join(s.Rivals, " or ")
	}
	return "not in the library"
}

// After tells whom a second-hand claim follows, and whether the work is in the
// library: "Wrenfield 1996, in the library". It is empty where no work is named.
func After(works []Work) string {
	var standings []string
	by := map[string][]string{}
	for _, w := range works {
		is := w.Standing()
		if by[is] == nil {
			standings = append(standings, is)
		}
		by[is] = append(by[is], w.Citation)
	}
	for i, is := range standings {
		standings[i] = Listed(by[is]) + ", " + is
	}
	return strings.Join(standings, "; ")
}

// Works returns the works that a second-hand claim names. The entries of the
// paper's own list that it cites say which they are: by DOI, by title, by
// authors and year. Where the list did not tell, the citation's own words do.
func (s *Shelf) Works(c evidence.Claim) []Work {
	if !c.Secondhand {
		return nil
	}
	memo := c.Cited
	for _, e := range c.Entries {
		memo += "\n" + e.Printed
	}
	works, done := s.works[memo]
	if !done {
		works = named(c)
		for i := range works {
			s.find(&works[i])
		}
		s.works[memo] = works
	}
	citing := func(w Work) bool { return w.Paper == c.Paper || slices.Contains(w.Rivals, c.Paper) }
	if !slices.ContainsFunc(works, citing) {
		return works
	}
	works = slices.Clone(works)
	for i := range works {
		s.notItself(&works[i], c.Paper)
	}
	return works
}

// named returns the works that a claim's entries and citation name, before any
// is looked for.
func named(c evidence.Claim) []Work {
	var out []Work
	for _, e := range c.Entries {
		if entry, ok := reference.ParseEntry(e.Printed); ok {
			out = append(out, Work{Citation: reference.Citation(entry.Record) + entry.Suffix, Printed: e.Printed, record: entry.Record})
		}
	}
	for _, m := range citation.Of(c.Cited) {
		r := m.Record()
		told := slices.ContainsFunc(out, func(w Work) bool {
			return w.record.Year == r.Year && reference.CompareAuthors(r.Authors, w.record.Authors) >= reference.Alike
		})
		if told || m.Personal || m.Authority || m.Year == 0 || len(m.Families) == 0 {
			continue
		}
		out = append(out, Work{Citation: shown(m), record: r})
	}
	return out
}

// shown is a mention as it would be cited.
func shown(m citation.Mention) string {
	r := m.Record()
	if m.EtAl && len(m.Families) == 1 {
		r.Authors = append(r.Authors, reference.Author{}) // "et al." begins with the third
	}
	return reference.Citation(r) + m.Suffix
}

// find looks for a work among the papers of the library.
func (s *Shelf) find(w *Work) {
	f := s.catalogue().Find(w.record)
	w.Paper, w.Rivals, w.by = f.Key, append([]string{}, f.Rivals...), f.By
	if w.Paper != "" {
		w.Citation = s.Cite(w.Paper)
	}
}

// notItself takes the citing paper out of what w could be: no paper cites itself
// by authors and year. Where its own list has it all the same, that is said.
func (s *Shelf) notItself(w *Work, citing string) {
	if w.Paper == citing {
		w.Paper, w.Self = "", w.by != reference.ByAuthor
		return
	}
	w.Rivals = slices.DeleteFunc(slices.Clone(w.Rivals), func(key string) bool { return key == citing })
	if len(w.Rivals) == 1 {
		w.Paper, w.Rivals = w.Rivals[0], []string{}
		w.Citation = s.Cite(w.Paper)
	}
}

// catalogue is the library by what references say of its papers.
func (s *Shelf) catalogue() *reference.Catalogue {
	if s.known == nil {
		s.known = &reference.Catalogue{}
		keys := make([]string, 0, len(s.Library))
		for key := range s.Library {
			keys = append(keys, key)
		}
		slices.Sort(keys)
		for _, key := range keys {
			s.known.Add(key, s.Library[key].record())
		}
	}
	return s.known
}

func (p Paper) record() reference.Record {
	r := reference.Record{Title: p.Title, Year: p.Year, Volume: p.Volume, Pages: p.Extent, DOI: p.DOI}
	for _, a := range p.Authors {
		family, given, _ := strings.Cut(a, ",")
		r.Authors = append(r.Authors, reference.Author{Family: strings.TrimSpace(family), Given: strings.TrimSpace(given)})
	}
	return r
}

// work names a source that is not in the library, the same however papers
// print it. Works are told apart by what was asked before, those with entries
// first: see register.
func (s *Shelf) work(src Work) string {
	if len(src.record.Authors) == 0 {
		return ""
	}
	f := s.missing.Find(src.record)
	if f.Key == "" && f.Rivals != nil {
		return reference.Fold(src.Citation) + "?"
	}
	if f.Key == "" {
		f.Key = reference.Key(src.record, func(key string) bool { return s.taken[key] })
		s.taken[f.Key] = true
	}
	s.missing.Add(f.Key, src.record)
	return f.Key
}

// register makes the works known that claims cite, those of which papers say
// most first: a bare author and year then finds the work it means.
func (s *Shelf) register(claims []evidence.Claim) {
	var all []Work
	for _, c := range claims {
		for _, src := range s.Works(c) {
			if src.Paper == "" && !src.Self {
				all = append(all, src)
			}
		}
	}
	says := func(src Work) (n int) {
		for _, field := range []string{src.record.DOI, src.record.Title, src.Printed} {
			if field != "" {
				n++
			}
		}
		return n
	}
	slices.SortStableFunc(all, func(a, b Work) int {
		return cmp.Or(says(b)-says(a), strings.Compare(a.Printed, b.Printed), strings.Compare(a.Citation, b.Citation))
	})
	for _, src := range all {
		s.work(src)
	}
}

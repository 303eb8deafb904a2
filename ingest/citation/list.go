package citation

import (
	"slices"
	"strconv"

	"hatchlore/ingest/reference"
)

// List is a paper's own list of references.
type List struct {
	byNumber map[int][]reference.Entry
	byAuthor map[string][]reference.Entry // first author and year
	lost     []reference.Entry            // whose first author has lost letters
}

// ReadList reads a list of references.
func ReadList(text string) *List {
	l := &List{byNumber: map[int][]reference.Entry{}, byAuthor: map[string][]reference.Entry{}}
	for _, e := range reference.Entries(text) {
		if e.Number > 0 {
			l.byNumber[e.Number] = append(l.byNumber[e.Number], e)
		}
		if reference.HasLost(e.Authors[0].Family) {
			l.lost = append(l.lost, e)
		}
		for _, who := range reference.FamilyForms(e.Authors[0].Family) {
			key := who + strconv.Itoa(e.Year)
			l.byAuthor[key] = append(l.byAuthor[key], e)
		}
	}
	return l
}

// Find returns the entries that m cites, in its order: one for an author and
// year, one for each number that the list has. It is none where the list has
// no such entry, or several that m could mean.
func (l *List) Find(m Mention) []reference.Entry {
	if m.Personal || m.Authority {
		return nil
	}
	var out []reference.Entry
	for _, n := range m.Numbers {
		if e := l.byNumber[n]; len(e) == 1 {
			out = append(out, e[0])
		}
	}
	if m.Year == 0 || len(m.Families) == 0 {
		return out
	}
	// A place before a list of names may read as the first of them: "In Norfolk,
	// Hallow & Birk (1987)".
	for ; len(m.Families) > 0; m.Families = m.Families[1:] {
		if found := l.dated(m); len(found) > 0 {
			if e, ok := pick(found, m); ok {
				out = append(out, e)
			}
			break
		}
	}
	return out
}

// dated returns the entries of m's first author and year.
func (l *List) dated(m Mention) []reference.Entry {
	for _, who := range reference.FamilyForms(m.Families[0]) {
		if found := l.byAuthor[who+strconv.Itoa(m.Year)]; len(found) > 0 {
			return found
		}
	}
	first := m.Record().Authors[:1]
	return slices.DeleteFunc(slices.Clone(l.lost), func(e reference.Entry) bool {
		return e.Year != m.Year || reference.CompareAuthors(first, e.Authors[:1]) != reference.Same
	})
}

// pick chooses the entry that m means: by its letter, then by the other
// authors. Papers cite "Hallow 1987" where their list has two authors; that is
// taken where no other entry could be meant.
func pick(found []reference.Entry, m Mention) (reference.Entry, bool) {
	lettered := slices.DeleteFunc(slices.Clone(found), func(e reference.Entry) bool { return e.Suffix != m.Suffix })
	switch {
	case len(lettered) > 0:
		found = lettered
	case m.Suffix != "":
		found = slices.DeleteFunc(slices.Clone(found), func(e reference.Entry) bool { return e.Suffix != "" })
	}
	authors := m.Record().Authors
	for _, least := range []reference.Likeness{reference.Same, reference.Alike} {
		var fit []reference.Entry
		for _, e := range found {
			if reference.CompareAuthors(authors, e.Authors) >= least {
				fit = append(fit, e)
			}
		}
		if len(fit) > 0 {
			return fit[0], len(fit) == 1
		}
	}
	return reference.Entry{}, false
}

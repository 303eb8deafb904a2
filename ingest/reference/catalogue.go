package reference

import (
	"slices"
	"strings"
)

// Way says by what a work was known again.
type Way string

const (
	ByDOI    Way = "its DOI"
	ByTitle  Way = "its title"
	ByAuthor Way = "its authors and year"
)

// Found is the work of a [Catalogue] that a reference means.
type Found struct {
	Key    string   // "" where none is meant, or several could be
	By     Way      // by what it was known; "" where Key is
	Rivals []string // keys of those that could be meant, where nothing decides
}

// Catalogue knows works by what references say of them, however they print it.
// It is for one goroutine at a time.
type Catalogue struct {
	works   []catalogued
	byDOI   map[string]int
	byYear  map[int][]int
	writers map[int]map[string][]int // by year and a form of the first author; made when a year is first asked for
}

type catalogued struct {
	key string
	Record
	title title // folded when it is first asked for
}

// Add enters a work. Of two with one DOI the first counts for it.
func (c *Catalogue) Add(key string, r Record) {
	if c.byYear == nil {
		c.byDOI, c.byYear, c.writers = map[string]int{}, map[int][]int{}, map[int]map[string][]int{}
	}
	n := len(c.works)
	c.works = append(c.works, catalogued{key: key, Record: r})
	c.byYear[r.Year] = append(c.byYear[r.Year], n)
	delete(c.writers, r.Year)
	if _, known := c.byDOI[strings.ToLower(r.DOI)]; !known && r.DOI != "" {
		c.byDOI[strings.ToLower(r.DOI)] = n
	}
}

// folded returns the title of work n.
func (c *Catalogue) folded(n int) title {
	w := &c.works[n]
	if w.title.printed == "" && w.Title != "" {
		w.title = foldedTitle(w.Title)
	}
	return w.title
}

// by returns the works of a first author and year. Those whose first author has
// lost letters are among them whoever is asked for.
func (c *Catalogue) by(first Author, year int) []int {
	if HasLost(first.Family) {
		return c.byYear[year]
	}
	if c.writers == nil {
		return nil
	}
	index := c.writers[year]
	if index == nil {
		index = map[string][]int{}
		c.writers[year] = index
		for _, n := range c.byYear[year] {
			authors := c.works[n].Authors
			switch {
			case len(authors) == 0:
			case HasLost(authors[0].Family):
				index[lostLetter] = append(index[lostLetter], n)
			default:
				for _, form := range FamilyForms(authors[0].Family) {
					index[form] = append(index[form], n)
				}
			}
		}
	}
	found := index[lostLetter]
	for _, form := range FamilyForms(first.Family) {
		found = slices.Concat(found, index[form])
	}
	slices.Sort(found)
	return slices.Compact(found)
}

// Find returns the work that r means: the one with its DOI, else with its
// title, else of its authors and year where the titles do not speak against
// it. What r leaves out counts for nothing.
func (c *Catalogue) Find(r Record) Found {
	if n, ok := c.byDOI[strings.ToLower(r.DOI)]; ok && r.DOI != "" {
		return Found{Key: c.works[n].key, By: ByDOI}
	}
	if r.Title != "" {
		if f := c.titled(r); f.Key != "" || f.Rivals != nil {
			return f
		}
	}
	if len(r.Authors) == 0 || r.Year == 0 {
		return Found{}
	}
	return c.written(r)
}

// titled finds the works with r's title, printed a year apart or without a
// year where it has none.
func (c *Catalogue) titled(r Record) Found {
	var best []string
	rank, asked := 0, foldedTitle(r.Title)
	for _, n := range c.around(r.Year) {
		title := asked.same(c.folded(n))
		if title == Unlike || asked.folded == "" {
			continue
		}
		w := c.works[n]
		authors := CompareAuthors(r.Authors, w.Authors)
		if authors == Unlike || authors == Open && len(asked.folded) < leastTitle {
			continue
		}
		is := 4*int(title) + 2*int(authors)
		if w.Year == r.Year {
			is++
		}
		if is > rank {
			best, rank = nil, is
		}
		if is == rank {
			best = append(best, w.key)
		}
	}
	return oneOf(best, ByTitle)
}

// around returns the works printed in a year and those beside it, and without
// a year; all of them for year 0.
func (c *Catalogue) around(year int) []int {
	if year != 0 {
		return slices.Concat(c.byYear[year], c.byYear[year-1], c.byYear[year+1], c.byYear[0])
	}
	all := make([]int, len(c.works))
	for i := range all {
		all[i] = i
	}
	return all
}

// written finds the works of r's authors and year.
func (c *Catalogue) written(r Record) Found {
	var sure, open, near []string
	asked := foldedTitle(r.Title)
	for _, least := range []Likeness{Same, Alike} {
		for _, n := range c.by(r.Authors[0], r.Year) {
			w := c.works[n]
			if CompareAuthors(r.Authors, w.Authors) != least || otherDOI(r, w.Record) {
				continue
			}
			switch title := asked.compare(c.folded(n)); {
			case title >= Alike || samePages(r, w.Record):
				sure = append(sure, w.key)
			case title == Open:
				open = append(open, w.key)
			case title == Near:
				near = append(near, w.key)
			}
		}
		switch {
		case len(sure) > 0:
			return oneOf(sure, ByAuthor)
		case len(near) > 0:
			rivals := append(open, near...)
			slices.Sort(rivals)
			return Found{Rivals: slices.Compact(rivals)}
		case len(open) > 0:
			return oneOf(open, ByAuthor)
		}
	}
	return Found{}
}

func oneOf(keys []string, by Way) Found {
	slices.Sort(keys)
	if keys = slices.Compact(keys); len(keys) == 1 {
		return Found{Key: keys[0], By: by}
	}
	return Found{Rivals: keys}
}

func otherDOI(a, b Record) bool {
	return a.DOI != "" && b.DOI != "" && !strings.EqualFold(a.DOI, b.DOI)
}

// samePages reports whether two records stand in one place: a translated title
// does.
func samePages(a, b Record) bool {
	first := func(pages string) string { p, _, _ := strings.Cut(pages, "–"); return p }
	return a.Volume != "" && a.Volume == b.Volume && a.Pages != "" && first(a.Pages) == first(b.Pages)
}

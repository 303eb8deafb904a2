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
	works  []catalogued
	byDOI  map[string]int
	byYear map[int][]int
}

type catalogued struct {
	key string
	Record
}

// Add enters a work. Of two with one DOI the first counts for it.
func (c *Catalogue) Add(key string, r Record) {
	if c.byYear == nil {
		c.byDOI, c.byYear = map[string]int{}, map[int][]int{}
	}
	n := len(c.works)
	c.works = append(c.works, catalogued{key, r})
	c.byYear[r.Year] = append(c.byYear[r.Year], n)
	if _, known := c.byDOI[strings.ToLower(r.DOI)]; !known && r.DOI != "" {
		c.byDOI[strings.ToLower(r.DOI)] = n
	}
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
	rank := 0
	for _, n := range c.around(r.Year) {
		w := c.works[n]
		title, authors := CompareTitles(r.Title, w.Title), CompareAuthors(r.Authors, w.Authors)
		if title < Alike || authors == Unlike || authors == Open && len(Fold(r.Title)) < leastTitle {
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
	for _, least := range []Likeness{Same, Alike} {
		for _, n := range c.byYear[r.Year] {
			w := c.works[n]
			if CompareAuthors(r.Authors, w.Authors) != least || otherDOI(r, w.Record) {
				continue
			}
			switch title := CompareTitles(r.Title, w.Title); {
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

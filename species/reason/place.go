package reason

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/fulltext"
	"hatchlore/species/witness"
)

// populations compares where the eggs of sides that face each other came from.
// It is a reason where at least half of the papers on a side worked in places in
// which nobody of the other did; who worked in the other's places all the same is
// named. Among many sides all papers of two must have worked apart, and the places
// of all are told in one line.
func populations(c conflict.Conflict, lib *witness.Shelf) []conflict.Reason {
	many := c.Kind == conflict.Apart && len(c.Sides) > 2
	var out []conflict.Reason
	for _, two := range camps(c) {
		note := places(two[0], two[1], many, lib)
		if note != "" && many {
			return []conflict.Reason{{Kind: conflict.Population, Note: placesOfAll(c.Sides, lib)}}
		}
		if note != "" {
			out = append(out, conflict.Reason{Kind: conflict.Population, Note: note})
		}
	}
	return out
}

// placesOfAll tells side by side where the eggs came from.
func placesOfAll(sides []conflict.Side, lib *witness.Shelf) string {
	var told []string
	for i, s := range sides {
		if o := placesOf(s, lib); len(o) > 0 {
			told = append(told, "on side "+conflict.Letter(i)+" from "+witness.Listed(o.names())+" ("+lib.Cites(o.papers())+")")
		}
	}
	return "the eggs came " + strings.Join(told, "; ")
}

// places tells two sides apart by where their eggs came from, "" where that
// tells nothing.
func places(a, b conflict.Side, strict bool, lib *witness.Shelf) string {
	x, y := placesOf(a, lib), placesOf(b, lib)
	x, y = x.without(y), y.without(x)
	apart := origins{}
	for _, o := range x {
		if !o.meets(y) {
			apart = append(apart, o)
		}
	}
	if len(x) == 0 || len(y) == 0 || 2*len(apart) < len(x) || strict && len(apart) < len(x) {
		return ""
	}
	note := fmt.Sprintf("the eggs of %s came from %s, those of %s from %s", lib.Cites(apart.papers()), witness.Listed(apart.names()), lib.Cites(y.papers()), witness.Listed(y.names()))
	if len(apart) < len(x) {
		rest := slices.DeleteFunc(slices.Clone(x), func(o origin) bool { return !o.meets(y) })
		note += "; but those of " + lib.Cites(rest.papers()) + " from " + witness.Listed(rest.names())
	}
	return note
}

// origin is where the eggs of one paper came from.
type origin struct {
	paper  string
	places []string
}

type origins []origin

// without leaves out papers that others hold too: one that stands on both sides
// had eggs of one place on both.
func (o origins) without(others origins) origins {
	return slices.DeleteFunc(slices.Clone(o), func(x origin) bool {
		return slices.ContainsFunc(others, func(y origin) bool { return y.paper == x.paper && slices.Equal(x.places, y.places) })
	})
}

// meets reports whether a paper worked where one of the others did.
func (o origin) meets(others origins) bool {
	return slices.ContainsFunc(o.places, func(p string) bool {
		return slices.ContainsFunc(others.names(), func(q string) bool { return fulltext.SameRegion(p, q) })
	})
}

func (o origins) papers() []string {
	var out []string
	for _, x := range o {
		out = append(out, x.paper)
	}
	return out
}

// names are the different places, a vaguer name within a longer one left out:
// "Ostrel" beside "Ostrel Basin", "Kelm Terraces" beside "Kelm Terrace".
func (o origins) names() []string {
	var out []string
	for _, x := range o {
		for _, p := range x.places {
			if i := slices.IndexFunc(out, func(q string) bool { return within(p, q) || within(q, p) }); i < 0 {
				out = append(out, p)
			} else if len(p) > len(out[i]) {
				out[i] = p
			}
		}
	}
	return out
}

// within reports whether one name of a place begins another.
func within(short, long string) bool {
	short, long = strings.ToLower(short), strings.ToLower(long)
	return short == long || long == short+"s" || strings.HasPrefix(long, short+" ")
}

// placesOf gathers the places of a side's papers; of a paper that worked at
// several, those that the quotes name, when they name any. Papers that found
// it both ways are left out where others stand on the side.
func placesOf(s conflict.Side, lib *witness.Shelf) origins {
	papers := slices.DeleteFunc(s.Leaders(), func(k string) bool { return slices.Contains(s.Torn, k) })
	if len(papers) == 0 {
		papers = s.Leaders()
	}
	var out origins
	for _, k := range papers {
		if !slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Paper == k && !c.Secondhand }) {
			continue // it cites others: its own eggs tell nothing here
		}
		named := slices.DeleteFunc(slices.Clone(lib.Library[k].Places), func(p string) bool {
			return !slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Paper == k && mentions(c.Quote, p) })
		})
		if len(named) == 0 {
			named = lib.Library[k].Places
		}
		if len(named) > 0 {
			out = append(out, origin{k, named})
		}
	}
	return out
}

// mentions reports whether a quote has a word of the place's name: "fen eggs"
// are those of Marrow Fen.
func mentions(quote, place string) bool {
	words := strings.FieldsFunc(strings.ToLower(quote), func(r rune) bool { return !unicode.IsLetter(r) && r != '-' })
	return slices.ContainsFunc(strings.Fields(strings.ToLower(place)), func(w string) bool { return slices.Contains(words, w) })
}

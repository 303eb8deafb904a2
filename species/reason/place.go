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
	for _, two := range append(camps(c), harmed(c)...) {
		r, apart := places(two[0], two[1], c.Taxon, many, lib)
		if apart && many {
			return []conflict.Reason{placesOfAll(c, lib)}
		}
		if apart {
			out = append(out, r)
		}
	}
	return out
}

// harmed sets those whose eggs a treatment harmed against those who found it
// merely needless, which is no contradiction, and yet may be a matter of place.
func harmed(c conflict.Conflict) [][2]conflict.Side {
	var harm, needless conflict.Side
	for _, s := range c.Sides[1:] {
		switch conflict.Stance(s.Category) {
		case conflict.Harms:
			harm = s
		case conflict.NotNeeded:
			needless = s
		}
	}
	needless.Told = slices.DeleteFunc(slices.Clone(needless.Told), func(cl evidence.Claim) bool { return found(harm, cl.Paper) })
	needless.Papers = slices.DeleteFunc(slices.Clone(needless.Papers), func(k string) bool { return found(harm, k) })
	if c.Kind != conflict.Need || len(harm.Told) == 0 || len(needless.Told) == 0 {
		return nil
	}
	return [][2]conflict.Side{{harm, needless}}
}

// placesOfAll tells side by side where the eggs came from.
func placesOfAll(c conflict.Conflict, lib *witness.Shelf) conflict.Reason {
	r := conflict.Reason{Kind: conflict.Population}
	lies := regions(lib)
	var told []string
	for i, s := range c.Sides {
		if o := placesOf(s, c.Taxon, lib); len(o) > 0 {
			told = append(told, "on side "+conflict.Letter(i)+" from "+witness.Listed(o.names(lies))+" ("+lib.Cites(o.papers())+")")
			r.Papers = append(r.Papers, o.papers()...)
		}
	}
	r.Note = "the eggs came " + strings.Join(told, "; ")
	return r
}

// places tells two sides apart by where their eggs of a taxon came from; ok is
// false where that tells nothing.
func places(a, b conflict.Side, taxon string, strict bool, lib *witness.Shelf) (r conflict.Reason, ok bool) {
	x, y := placesOf(a, taxon, lib), placesOf(b, taxon, lib)
	x, y = x.without(y), y.without(x)
	lies := regions(lib)
	apart := slices.DeleteFunc(slices.Clone(x), func(o origin) bool { return o.meets(y, lies) })
	if len(x) == 0 || len(y) == 0 || 2*len(apart) < len(x) || strict && len(apart) < len(x) {
		return r, false
	}
	note := fmt.Sprintf("the eggs of %s came from %s, those of %s from %s", lib.Cites(apart.papers()), witness.Listed(apart.names(lies)), lib.Cites(y.papers()), witness.Listed(y.names(lies)))
	if len(apart) < len(x) {
		rest := slices.DeleteFunc(slices.Clone(x), func(o origin) bool { return !o.meets(y, lies) })
		note += "; but those of " + lib.Cites(rest.papers()) + " from " + witness.Listed(rest.names(lies))
	}
	return conflict.Reason{Kind: conflict.Population, Papers: slices.Concat(x.papers(), y.papers()), Note: note}, true
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
func (o origin) meets(others origins, lies map[string]string) bool {
	return slices.ContainsFunc(o.places, func(p string) bool {
		return slices.ContainsFunc(others.places(), func(q string) bool {
			return fulltext.SameRegion(p, q) || lies[p] != "" && fulltext.SameRegion(lies[p], q) || lies[q] != "" && fulltext.SameRegion(p, lies[q])
		})
	})
}

// regions says in which places others lie, as any paper of the library tells it.
func regions(lib *witness.Shelf) map[string]string {
	out := map[string]string{}
	for _, p := range lib.Library {
		for _, o := range p.Places {
			if o.Within != "" && (out[o.Place] == "" || o.Within < out[o.Place]) { // the same whatever order the papers come in
				out[o.Place] = o.Within
			}
		}
	}
	return out
}

func (o origins) papers() []string {
	var out []string
	for _, x := range o {
		out = append(out, x.paper)
	}
	return out
}

func (o origins) places() []string {
	var out []string
	for _, x := range o {
		out = append(out, x.places...)
	}
	return out
}

// names are the different places, each region once: "Ostrel Basin" beside "Ostrel",
// "Orrin Top" beside "Orrin Plateau" and a hollow beside the fen in which it lies are
// no places of their own. A place that lies in another is told with it.
func (o origins) names(lies map[string]string) []string {
	var out []string
	for _, x := range o {
		for _, p := range x.places {
			if i := slices.IndexFunc(out, func(q string) bool { return within(p, q) || within(q, p) || fulltext.SameRegion(p, q) }); i < 0 {
				out = append(out, p)
			} else if within(out[i], p) {
				out[i] = p
			}
		}
	}
	all := slices.Clone(out)
	out = slices.DeleteFunc(out, func(p string) bool {
		return lies[p] != "" && slices.ContainsFunc(all, func(q string) bool { return q != p && fulltext.SameRegion(lies[p], q) })
	})
	for i, p := range out {
		if lies[p] != "" {
			out[i] = p + " in " + lies[p]
		}
	}
	return out
}

// within reports whether one name of a place begins another.
func within(short, long string) bool {
	short, long = strings.ToLower(short), strings.ToLower(long)
	return short == long || long == short+"s" || strings.HasPrefix(long, short+" ")
}

// placesOf gathers where a side's papers had eggs of a taxon from: the places that
// their quotes name, else those at which the paper worked. Papers that found it
// both ways are left out where others stand on the side.
func placesOf(s conflict.Side, taxon string, lib *witness.Shelf) origins {
	papers := slices.DeleteFunc(s.Leaders(), func(k string) bool { return slices.Contains(s.Torn, k) })
	if len(papers) == 0 {
		papers = s.Leaders()
	}
	var out origins
	for _, k := range papers {
		if !found(s, k) {
			continue // it cites others: its own eggs tell nothing here
		}
		all := lib.Library[k].Places
		named := slices.DeleteFunc(slices.Clone(all), func(o fulltext.Origin) bool {
			return !slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Paper == k && !c.Secondhand && mentions(c.Quote, o.Place) })
		})
		if len(named) == 0 {
			named = all
		}
		if places := fulltext.Worked(named, taxon); len(places) > 0 {
			out = append(out, origin{k, places})
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

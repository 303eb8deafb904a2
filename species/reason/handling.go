package reason

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/fulltext"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// handlings are the ways of handling eggs that bear on a factor: what dried eggs
// bear depends on how warm they dried, what undried ones bear on the water that
// kept them wet, and a winter in the pool is cold before any that was counted.
var handlings = []struct {
	what  fulltext.Handling
	on    evidence.Factor
	label string
	tells func(a, b []handled) (x, y []handled) // those that differ; y is empty where x alone says it all
}{
	{fulltext.DryingTemperature, evidence.Drying, "drying temperature", otherTemperature},
	{fulltext.WetKeeping, evidence.Drying, "keeping of undried eggs", otherKeeping},
	{fulltext.EarlierCold, evidence.ColdLength, "cold before collection", oneOnly},
}

// handled is what one paper did with eggs.
type handled struct {
	paper string
	fulltext.Handled
}

// handling names what papers on two sides did to their eggs in other ways, where
// no factor covers it, each with the page and words that say so.
func handling(c conflict.Conflict, a, b conflict.Side, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for _, h := range handlings {
		if h.on != c.Factor {
			continue
		}
		x, y := h.tells(handledOn(h.what, a, b, c.Taxon, lib), handledOn(h.what, b, conflict.Side{}, c.Taxon, lib))
		if len(x) == 0 {
			// Whatever the order of the sides, a paper on one of them may stand alone.
			x, y = h.tells(handledOn(h.what, b, a, c.Taxon, lib), handledOn(h.what, a, conflict.Side{}, c.Taxon, lib))
		}
		if len(x) == 0 {
			continue
		}
		r := conflict.Reason{Kind: conflict.Conditions, Handling: h.what, Note: h.label + ": " + told(x, lib)}
		if len(y) > 0 {
			r.Note += " against " + told(y, lib)
		}
		for _, k := range slices.Concat(x, y) {
			r.Papers = append(r.Papers, k.paper)
			r.Sources = append(r.Sources, conflict.Source{Paper: k.paper, Page: k.Page, Quote: k.Quote})
		}
		out = append(out, r)
	}
	return out
}

// handledOn is what the papers of a side did in one way with eggs of a taxon.
// Those that stand on another side as well, or found it both ways, are left out.
func handledOn(what fulltext.Handling, s, without conflict.Side, taxon string, lib *witness.Shelf) []handled {
	var out []handled
	for _, k := range s.Leaders() {
		if !found(s, k) || found(without, k) || slices.Contains(s.Torn, k) {
			continue
		}
		for _, h := range lib.Library[k].Handled {
			if h.What == what && (h.Taxon == "" || strings.EqualFold(h.Taxon, taxon)) {
				out = append(out, handled{k, h})
			}
		}
	}
	return out
}

// found reports whether a paper stands on a side by a finding of its own.
func found(s conflict.Side, paper string) bool {
	return slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Paper == paper && !c.Secondhand })
}

// told lists what papers did, with page and words.
func told(hs []handled, lib *witness.Shelf) string {
	var out []string
	for _, h := range hs {
		v := h.Value
		if h.Low != nil {
			v = value.Print(h.Low, h.High, evidence.WarmTemperature.Unit(), "")
		}
		out = append(out, fmt.Sprintf("%s in %s, p. %d (“%s”)", v, lib.Cite(h.paper), h.Page, h.Quote))
	}
	return witness.Listed(out)
}

// otherTemperature returns the papers of a whose temperatures are no one's of b, and
// those of b.
func otherTemperature(a, b []handled) (x, y []handled) {
	meets := func(h, k handled) bool {
		return value.Near(evidence.WarmTemperature, value.Span{Low: *h.Low, High: *h.High}, value.Span{Low: *k.Low, High: *k.High}, enough)
	}
	x = slices.DeleteFunc(slices.Clone(a), func(h handled) bool { return slices.ContainsFunc(b, func(k handled) bool { return meets(h, k) }) })
	if len(x) == 0 || len(b) == 0 {
		return nil, nil
	}
	return x, b
}

// otherKeeping returns the papers that kept eggs in closed vessels on one side and
// those that changed the water on the other.
func otherKeeping(a, b []handled) (x, y []handled) {
	kept := func(hs []handled, value string) []handled {
		return slices.DeleteFunc(slices.Clone(hs), func(h handled) bool { return h.Value != value })
	}
	x, y = kept(a, fulltext.KeptClosed), kept(b, fulltext.KeptRenewed)
	if len(x) == 0 || len(y) == 0 {
		return nil, nil
	}
	return x, y
}

// oneOnly returns what papers on one side did that nobody on the other did.
func oneOnly(a, b []handled) (x, y []handled) {
	if len(b) > 0 {
		return nil, nil
	}
	return a, nil
}

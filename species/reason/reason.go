// Package reason looks for what could explain a conflict away: a slip of unit,
// emergence set against hatching, a side that only cites, an experiment published
// twice, eggs of other places, other conditions.
//
// It refuses to weigh: a reason is told with what was compared, and the conflict
// stays.
package reason

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/fulltext"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Of checks the explanations in a fixed order: a slip of unit, stage,
// echo, an experiment published twice, population, other conditions.
func Of(c conflict.Conflict, claims []evidence.Claim, lib *witness.Shelf) []conflict.Reason {
	out := []conflict.Reason{}
	pairs := facing(c)
	for _, p := range pairs {
		out = append(out, unitSlips(c.Factor, p[0], p[1], lib)...)
	}
	out = append(out, stages(pairs, lib)...)
	out = append(out, Echoes(c, lib)...)
	out = append(out, twice(c.Sides, lib)...)
	out = append(out, populations(c, lib)...)
	for _, p := range pairs {
		out = append(out, conditions(c.Factor, p[0], p[1], claims, lib)...)
	}
	return distinctReasons(out)
}

// facing returns the sides two by two that contradict each other. Those who
// dispute one value and both saw eggs hatch there do not, nor do those who call a
// treatment needless and those who call it harmful.
func facing(c conflict.Conflict) [][2]conflict.Side {
	var out [][2]conflict.Side
	for i, a := range c.Sides {
		for _, b := range c.Sides[i+1:] {
			if c.At != nil && a.Bearing != evidence.Prevents && b.Bearing != evidence.Prevents || c.Kind == conflict.Need && i > 0 {
				continue
			}
			out = append(out, [2]conflict.Side{a, b})
		}
	}
	return out
}

// camps are the sides that face each other, with all who saw eggs hatch at a
// disputed value as one.
func camps(c conflict.Conflict) [][2]conflict.Side {
	if c.At == nil {
		return facing(c)
	}
	var two [2]conflict.Side
	for _, s := range c.Sides {
		k := &two[0]
		if s.Bearing == evidence.Prevents {
			k = &two[1]
		}
		k.Told = append(k.Told, s.Told...)
		k.Papers = append(k.Papers, s.Papers...)
		k.Torn = append(k.Torn, s.Torn...)
	}
	return [][2]conflict.Side{two}
}

// distinctReasons drops repetitions, and of each other condition all but the
// first pair of sides that it tells apart.
func distinctReasons(rs []conflict.Reason) []conflict.Reason {
	out := []conflict.Reason{}
	for _, r := range rs {
		if !slices.ContainsFunc(out, func(o conflict.Reason) bool {
			return o == r || r.Kind == conflict.Conditions && o.Kind == conflict.Conditions && o.Factor == r.Factor
		}) {
			out = append(out, r)
		}
	}
	return out
}

// unitSlips compares each value of one side with each of the other, both ways.
func unitSlips(f evidence.Factor, a, b conflict.Side, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for _, pair := range [][2]conflict.Side{{a, b}, {b, a}} {
		seen := map[string]bool{}
		for _, x := range pair[0].Told {
			key := x.Paper + value.Of(x)
			if !value.HasNumber(x) || seen[key] {
				continue
			}
			seen[key] = true
			out = append(out, slipOf(f, x, pair[1], lib)...)
		}
	}
	return out
}

// slipOf returns the slips by which x becomes what papers on the other side
// say.
func slipOf(f evidence.Factor, x evidence.Claim, other conflict.Side, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for _, s := range value.Slips(f, value.SpanOf(x)) {
		var papers []string
		for _, y := range other.Told {
			if y.Paper != x.Paper && value.HasNumber(y) && y.Unit == x.Unit && value.Same(f, s.Span, value.SpanOf(y)) && !slices.Contains(papers, y.Paper) {
				papers = append(papers, y.Paper)
			}
		}
		if len(papers) == 0 {
			continue
		}
		low, high := s.Ends()
		out = append(out, conflict.Reason{Kind: conflict.UnitSlip, Paper: x.Paper, Note: fmt.Sprintf("the %s of %s: %s, as in %s", asSaid(x), lib.Cite(x.Paper),
			fmt.Sprintf(s.How, value.Print(low, high, x.Unit, "")), lib.Cites(papers))})
	}
	return out
}

// asSaid shows a value with its printed form where that differs.
func asSaid(c evidence.Claim) string {
	v := value.Of(c)
	if c.Printed == "" || c.Printed == v {
		return v
	}
	return v + " (printed " + c.Printed + ")"
}

// stages tells papers that count emergence from those on another side that
// count hatching.
func stages(facing [][2]conflict.Side, lib *witness.Shelf) []conflict.Reason {
	type mix struct {
		emerged, counts string
		others          []string
	}
	var mixes []*mix
	for _, two := range facing {
		a, b := own(two[0]), own(two[1])
		for _, pair := range [][2]conflict.Side{{a, b}, {b, a}} {
			emerged, other := counting(pair[0], evidence.StageEmergence), pair[1]
			if len(emerged) == 0 || len(other.Told) == 0 || says(other, evidence.StageEmergence) || !only(pair[0], evidence.StageEmergence) && !says(other, evidence.StageHatching) {
				continue
			}
			if pair[0].Bearing == evidence.Prevents && other.Bearing != evidence.Prevents {
				continue // where none emerged none can have hatched
			}
			m := &mix{emerged: lib.Cites(emerged), counts: "counted hatching"}
			if !says(other, evidence.StageHatching) {
				m.counts = "did not say which"
			}
			if i := slices.IndexFunc(mixes, func(o *mix) bool { return o.emerged == m.emerged && o.counts == m.counts }); i >= 0 {
				m = mixes[i]
			} else {
				mixes = append(mixes, m)
			}
			for _, k := range other.Leaders() {
				if !slices.Contains(m.others, k) {
					m.others = append(m.others, k)
				}
			}
		}
	}
	var out []conflict.Reason
	for _, m := range mixes {
		out = append(out, conflict.Reason{Kind: conflict.StageMixed, Note: fmt.Sprintf("%s counted emergence, %s %s: an embryo that has emerged has not yet hatched",
			m.emerged, lib.Cites(m.others), m.counts)})
	}
	return out
}

// own is a side without what is only cited there.
func own(s conflict.Side) conflict.Side {
	out := conflict.Side{Bearing: s.Bearing}
	for _, c := range s.Told {
		if c.Secondhand {
			continue
		}
		out.Told = append(out.Told, c)
		if !slices.Contains(out.Papers, c.Paper) {
			out.Papers = append(out.Papers, c.Paper)
		}
	}
	return out
}

// counting returns the leaders of a side who count a stage in all that they
// say there.
func counting(s conflict.Side, stage evidence.Stage) []string {
	return slices.DeleteFunc(s.Leaders(), func(k string) bool {
		return slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Paper == k && c.Stage != stage })
	})
}

func only(s conflict.Side, stage evidence.Stage) bool {
	return len(s.Told) > 0 && !slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Stage != stage })
}

func says(s conflict.Side, stage evidence.Stage) bool {
	return slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return c.Stage == stage })
}

// Echoes names sides that nobody stands on by own findings, and on the others the
// papers that add a citation and no witness.
func Echoes(c conflict.Conflict, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for i, s := range c.Sides {
		which := "side " + conflict.Letter(i)
		if c.Kind == conflict.Silent {
			which = s.Value // nobody sets the sides of an open question beside each other
		}
		if slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return !c.Secondhand }) {
			out = append(out, repeats(which, s, lib)...)
			continue
		}
		var sources []string
		for _, c := range s.Told {
			if src := cited(s, c, lib); !slices.Contains(sources, src) {
				sources = append(sources, src)
			}
		}
		out = append(out, conflict.Reason{Kind: conflict.EchoOnly,
			Note: fmt.Sprintf("%s stands on %s as cited by %s, with no finding of their own", which, witness.Listed(sources), lib.Cites(s.Papers))})
	}
	return out
}

// repeats names the papers on a side that have no finding of their own there,
// by whom they cite: they are mouths, not witnesses.
func repeats(which string, s conflict.Side, lib *witness.Shelf) []conflict.Reason {
	leaders := s.Leaders()
	by := map[string][]string{}
	var sources []string
	for _, c := range s.Told {
		if !c.Secondhand || slices.Contains(leaders, c.Paper) {
			continue
		}
		src := cited(s, c, lib)
		if by[src] == nil {
			sources = append(sources, src)
		}
		if !slices.Contains(by[src], c.Paper) {
			by[src] = append(by[src], c.Paper)
		}
	}
	var out []conflict.Reason
	for _, src := range sources {
		verb := "cite"
		if len(by[src]) == 1 {
			verb = "cites"
		}
		out = append(out, conflict.Reason{Kind: conflict.EchoOnly, Note: fmt.Sprintf("on %s %s only %s %s", which, lib.Cites(by[src]), verb, src)})
	}
	return out
}

// twice names the papers on the sides whose own findings were published before.
func twice(sides []conflict.Side, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for _, s := range sides {
		for _, c := range s.Told {
			p := lib.Library[c.Paper]
			if c.Secondhand || lib.Witness(c.Paper) == c.Paper {
				continue
			}
			note := fmt.Sprintf("%s tells of the same experiment as %s", lib.Cite(c.Paper), lib.Cite(lib.Witness(c.Paper)))
			if p.SameWhy != "" {
				note += " (" + p.SameWhy + ")"
			}
			out = append(out, conflict.Reason{Kind: conflict.Twice, Note: note + ": it counts once"})
		}
	}
	return out
}

// cited names the source whose voice a second-hand claim on a side is.
func cited(s conflict.Side, c evidence.Claim, lib *witness.Shelf) string {
	voice := s.VoiceOf(c).Paper
	for _, key := range lib.Sources(c) {
		if lib.Witness(key) == voice {
			return lib.Cite(key)
		}
	}
	if works := lib.Works(c); len(works) > 0 {
		return works[0].Citation
	}
	if source := witness.Source(c); source != "" {
		return source
	}
	return "a source without a citation"
}

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

// conditions names other factors whose values on the two sides do not meet.
// What came of the eggs is no condition.
func conditions(disputed evidence.Factor, a, b conflict.Side, claims []evidence.Claim, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for _, m := range evidence.Measures() {
		if m.Factor == disputed || m.Outcome {
			continue
		}
		x := settingOf(m.Factor, a.Leaders(), claims)
		y := settingOf(m.Factor, b.Leaders(), claims)
		if v, w, ok := x.against(y, m.Factor); ok {
			out = append(out, conflict.Reason{Kind: conflict.Conditions, Factor: m.Factor, Note: fmt.Sprintf("%s: %s in %s against %s in %s",
				m.Label, v, lib.Cites(x.papers), w, lib.Cites(y.papers))})
		}
	}
	return out
}

// enough is by how many times what rounding and conversion do two settings must
// differ to be another condition: 3 °C, 0.6 of pH, a third of a length. Our own
// judgement, no source.
const enough = 3

// setting is what papers say they did about one factor.
type setting struct {
	papers     []string
	unit       string
	numbers    bool
	span       value.Span
	categories []string
}

// settingOf gathers the first-hand values of a factor in papers, whether they
// were good for the eggs or not.
func settingOf(f evidence.Factor, papers []string, claims []evidence.Claim) setting {
	var s setting
	for _, c := range claims {
		if c.Factor != f || c.Secondhand || !slices.Contains(papers, c.Paper) {
			continue
		}
		if value.HasNumber(c) {
			switch {
			case !s.numbers:
				s.numbers, s.unit, s.span = true, c.Unit, value.SpanOf(c)
			case c.Unit == s.unit:
				s.span = s.span.Join(value.SpanOf(c))
			}
		}
		if _, finding := conflict.StanceOf(c); c.Category != "" && (!finding || c.Factor == evidence.Trigger) && !slices.Contains(s.categories, c.Category) {
			s.categories = append(s.categories, c.Category)
		}
		if !slices.Contains(s.papers, c.Paper) {
			s.papers = append(s.papers, c.Paper)
		}
	}
	slices.Sort(s.categories)
	return s
}

// against returns both values where the settings differ: their numbers where
// both have some, else their words. That something is needed, or has no effect,
// is a finding and no condition.
func (s setting) against(t setting, f evidence.Factor) (v, w string, differ bool) {
	if len(s.papers) == 0 || len(t.papers) == 0 || slices.Equal(s.papers, t.papers) {
		return "", "", false
	}
	if s.numbers && t.numbers {
		return s.number(), t.number(), s.unit == t.unit && !value.Near(f, s.span, t.span, enough)
	}
	alike := slices.ContainsFunc(s.categories, func(c string) bool { return slices.Contains(t.categories, c) })
	return witness.Listed(s.categories), witness.Listed(t.categories), len(s.categories) > 0 && len(t.categories) > 0 && !alike
}

func (s setting) number() string {
	low, high := s.span.Ends()
	return value.Print(low, high, s.unit, "")
}

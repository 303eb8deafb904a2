package reason

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/witness"
)

// Echoes names sides that nobody stands on by own findings, and on the others the
// papers that add a citation and no witness: they are mouths, not witnesses.
func Echoes(c conflict.Conflict, lib *witness.Shelf) []conflict.Reason {
	var out []conflict.Reason
	for i, s := range c.Sides {
		which := "side " + conflict.Letter(i)
		if c.Kind == conflict.Silent {
			which = s.Value // nobody sets the sides of an open question beside each other
		}
		by := citing(s, lib)
		if slices.ContainsFunc(s.Told, func(c evidence.Claim) bool { return !c.Secondhand }) {
			for _, q := range by {
				out = append(out, conflict.Reason{Kind: conflict.EchoOnly, Papers: q.papers(lib), Note: "on " + which + " " + lib.Cites(q.by) + " only " + q.cites()})
			}
			continue
		}
		r := conflict.Reason{Kind: conflict.EchoOnly}
		var told []string
		for _, q := range by {
			told = append(told, lib.Cites(q.by)+" "+q.cites())
			r.Papers = append(r.Papers, q.papers(lib)...)
		}
		r.Papers = distinct(r.Papers)
		r.Note = which + " has no finding of its own: " + strings.Join(told, "; ")
		out = append(out, r)
	}
	return out
}

// quotation is papers that cite one source.
type quotation struct {
	source string // as cited
	key    string // of the source in the library, "" where it is not there
	by     []string
}

func (q quotation) cites() string {
	if len(q.by) == 1 {
		return "cites " + q.source
	}
	return "cite " + q.source
}

// papers are those that cite and, where it is in the library, the one they cite.
func (q quotation) papers(lib *witness.Shelf) []string {
	if _, here := lib.Library[q.key]; here {
		return append(slices.Clone(q.by), q.key)
	}
	return q.by
}

// citing returns the papers on a side that have no finding of their own there, by
// whom they cite.
func citing(s conflict.Side, lib *witness.Shelf) []quotation {
	var out []quotation
	for _, c := range s.Told {
		if !c.Secondhand || found(s, c.Paper) {
			continue
		}
		source, key := cited(s, c, lib)
		i := slices.IndexFunc(out, func(q quotation) bool { return q.source == source })
		if i < 0 {
			i = len(out)
			out = append(out, quotation{source: source, key: key})
		}
		if !slices.Contains(out[i].by, c.Paper) {
			out[i].by = append(out[i].by, c.Paper)
		}
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
			first := lib.Witness(c.Paper)
			note := fmt.Sprintf("%s tells of the same experiment as %s", lib.Cite(c.Paper), lib.Cite(first))
			if p.SameWhy != "" {
				note += " (" + p.SameWhy + ")"
			}
			out = append(out, conflict.Reason{Kind: conflict.Twice, Papers: []string{c.Paper, first}, Note: note + ": it counts once"})
		}
	}
	return out
}

// cited names the source whose voice a second-hand claim on a side is, with its
// key where it is in the library.
func cited(s conflict.Side, c evidence.Claim, lib *witness.Shelf) (source, key string) {
	voice := s.VoiceOf(c).Paper
	for _, key := range lib.Sources(c) {
		if lib.Witness(key) == voice {
			return lib.Cite(key), key
		}
	}
	if works := lib.Works(c); len(works) > 0 {
		return works[0].Citation, works[0].Paper
	}
	if source := witness.Source(c); source != "" {
		return source, ""
	}
	return "a source without a citation", ""
}

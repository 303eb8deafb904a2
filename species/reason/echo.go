package reason

import (
	"fmt"
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/witness"
)

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

package witness

import (
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/value"
)

// Voice is one source's say on a factor. A paper's own findings are one voice;
// what it cites is the voice of the paper cited, so that nine citations of one
// experiment, and the experiment itself, speak once.
type Voice struct {
	ID     string
	Paper  string // of the findings, or of the source cited when it is in the library
	Claims []evidence.Claim
}

// Voices sorts claims by who speaks, in a fixed order. The claims are those of
// one factor.
func Voices(claims []evidence.Claim, lib *Shelf) []Voice {
	by := map[string]*Voice{}
	own := map[string][]evidence.Claim{}
	for _, c := range claims {
		if !c.Secondhand {
			w := lib.Witness(c.Paper)
			own[w] = append(own[w], c)
		}
	}
	for _, c := range claims {
		id, paper := speaker(c, lib, own)
		if by[id] == nil {
			by[id] = &Voice{ID: id, Paper: paper}
		}
		by[id].Claims = append(by[id].Claims, c)
	}
	out := make([]Voice, 0, len(by))
	for _, v := range by {
		out = append(out, *v)
	}
	slices.SortFunc(out, func(a, b Voice) int { return strings.Compare(a.ID, b.ID) })
	return out
}

// speaker says whose finding a claim is. A citation of a paper in the library
// that says otherwise than that paper's own claims is a voice apart: it may
// misquote, or quote what was not read.
func speaker(c evidence.Claim, lib *Shelf, own map[string][]evidence.Claim) (id, paper string) {
	if !c.Secondhand {
		w := lib.Witness(c.Paper)
		return w, w
	}
	for _, key := range lib.Sources(c) {
		w := lib.Witness(key)
		if said := own[w]; len(said) == 0 || slices.ContainsFunc(said, func(o evidence.Claim) bool { return agree(o, c) }) {
			return w, w
		}
	}
	if key := lib.Echoes(c); key != "" {
		w := lib.Witness(key)
		return w + " as cited by " + c.Paper, w
	}
	if c.Cited != "" {
		return "cited " + strings.Join(strings.Fields(strings.ToLower(strings.Trim(c.Cited, "()[] .,;"))), " "), ""
	}
	return "cited in " + c.Paper, ""
}

// agree reports whether two claims on one factor say the same thing.
func agree(a, b evidence.Claim) bool {
	if a.Bearing != b.Bearing || a.Category != "" && b.Category != "" && a.Category != b.Category {
		return false
	}
	if value.HasNumber(a) && value.HasNumber(b) {
		return a.Unit == b.Unit && value.Meet(a.Factor, value.SpanOf(a), value.SpanOf(b))
	}
	return a.Category == b.Category || a.Category == "" || b.Category == ""
}

// Reach is the span of a voice's numeric claims with one of the bearings;
// ok is false when it has none.
func (v Voice) Reach(unit string, bearings ...evidence.Bearing) (s value.Span, ok bool) {
	for _, c := range v.Claims {
		if !value.HasNumber(c) || c.Unit != unit || !slices.Contains(bearings, c.Bearing) {
			continue
		}
		if !ok {
			s, ok = value.SpanOf(c), true
			continue
		}
		s = s.Join(value.SpanOf(c))
	}
	return s, ok
}

// Firsthand is the voice without what others say of it.
func (v Voice) Firsthand() Voice {
	v.Claims = slices.DeleteFunc(slices.Clone(v.Claims), func(c evidence.Claim) bool { return c.Secondhand })
	return v
}

// Holds reports whether a voice is among others.
func Holds(vs []Voice, v Voice) bool {
	return slices.ContainsFunc(vs, func(w Voice) bool { return w.ID == v.ID })
}

// Holding returns the voices with a claim that take takes.
func Holding(vs []Voice, take func(evidence.Claim) bool) []Voice {
	var out []Voice
	for _, v := range vs {
		if slices.ContainsFunc(v.Claims, take) {
			out = append(out, v)
		}
	}
	return out
}

// Shared returns the ids of the voices that stand among both.
func Shared(a, b []Voice) map[string]bool {
	torn := map[string]bool{}
	for _, v := range a {
		if slices.ContainsFunc(b, func(w Voice) bool { return w.ID == v.ID }) {
			torn[v.ID] = true
		}
	}
	return torn
}

package witness

import (
	"regexp"
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
	own := map[string][]evidence.Claim{}
	heard := map[string][]evidence.Claim{}
	for _, c := range claims {
		if w := lib.Witness(c.Paper); c.Secondhand {
			heard[w] = append(heard[w], c)
		} else {
			own[w] = append(own[w], c)
		}
	}
	lib.register(claims)
	by := map[string][]*Voice{} // of a source, one more for each misquote
	for _, c := range claims {
		id, paper := speaker{lib, own, heard}.of(c, nil)
		i := slices.IndexFunc(by[id], func(v *Voice) bool { return !v.misquoted(c) })
		if i < 0 {
			i = len(by[id])
			v := &Voice{ID: id, Paper: paper}
			if i > 0 {
				v.ID += " as cited by " + c.Paper
			}
			by[id] = append(by[id], v)
		}
		by[id][i].Claims = append(by[id][i].Claims, c)
	}
	var out []Voice
	for _, vs := range by {
		for _, v := range vs {
			v.Claims = hatchingFirst(v.Claims)
			out = append(out, *v)
		}
	}
	slices.SortFunc(out, func(a, b Voice) int { return strings.Compare(a.ID, b.ID) })
	return out
}

// hatchingFirst leaves out that shells opened at a value at which the same paper
// says that nothing hatched: it has told the two apart.
func hatchingFirst(claims []evidence.Claim) []evidence.Claim {
	return slices.DeleteFunc(slices.Clone(claims), func(c evidence.Claim) bool {
		return c.Stage == evidence.StageEmergence && c.Bearing == evidence.Favours && value.HasNumber(c) && slices.ContainsFunc(claims, func(o evidence.Claim) bool {
			return o.Bearing == evidence.Prevents && o.Stage != evidence.StageEmergence && o.Unit == c.Unit && value.SpanOf(o) == value.SpanOf(c) && o.Paper == c.Paper
		})
	})
}

// speaker says whose findings claims on one factor are.
type speaker struct {
	lib   *Shelf
	own   map[string][]evidence.Claim // by paper
	heard map[string][]evidence.Claim // what papers say after others
}

// of says whose finding a claim is. A citation of a paper in the library that
// says otherwise than that paper's own claims is a voice apart: it may misquote,
// or quote what was not read. A paper that found nothing itself and only cites
// the same is no source: the finding is that of whom it cites, and of those who
// only cite each other the first by name stands for all. through are the papers
// passed on the way.
func (s speaker) of(c evidence.Claim, through []string) (id, paper string) {
	if !c.Secondhand {
		w := s.lib.Witness(c.Paper)
		return w, w
	}
	keys := s.lib.Sources(c)
	for _, key := range keys {
		w := s.lib.Witness(key)
		same := func(o evidence.Claim) bool { return agree(o, c) }
		if said := s.own[w]; len(said) > 0 {
			if slices.ContainsFunc(said, same) {
				return w, w
			}
			continue
		}
		if slices.Contains(through, w) {
			first := slices.Min(through[slices.Index(through, w):])
			return first, first
		}
		if i := slices.IndexFunc(s.heard[w], same); i >= 0 {
			return s.of(s.heard[w][i], append(slices.Clone(through), w))
		}
		return w, w
	}
	if len(keys) > 0 {
		w := s.lib.Witness(keys[0])
		return w + " as cited by " + c.Paper, w
	}
	for _, src := range s.lib.Works(c) {
		if work := s.lib.work(src); work != "" && !src.Self {
			return "cited " + work, ""
		}
	}
	if source := Source(c); source != "" {
		return "cited " + strings.ToLower(source), ""
	}
	return "cited in " + c.Paper, ""
}

// misquoted reports whether another paper cites the voice with what would be
// the value of c in another unit. Either may be the misquote.
func (v *Voice) misquoted(c evidence.Claim) bool {
	return c.Secondhand && slices.ContainsFunc(v.Claims, func(o evidence.Claim) bool {
		return o.Secondhand && o.Paper != c.Paper && Slipped(o, c)
	})
}

// Slipped reports whether one of two claims on a factor says what the other
// would say in another unit.
func Slipped(a, b evidence.Claim) bool {
	if !value.HasNumber(a) || !value.HasNumber(b) || a.Unit != b.Unit {
		return false
	}
	becomes := func(a, b evidence.Claim) bool {
		return slices.ContainsFunc(value.Slips(a.Factor, value.SpanOf(a)), func(s value.Slipped) bool { return value.Same(a.Factor, s.Span, value.SpanOf(b)) })
	}
	return becomes(a, b) || becomes(b, a)
}

// bracketed finds the brackets around a year.
var bracketed = regexp.MustCompile(`[(\[](\d{4}[a-z]?)[)\]]`)

// Cited is what a second-hand claim cites, in one form however it was printed:
// "Hallow 1987" for "(Hallow 1987)" and "Hallow (1987)".
func Cited(c evidence.Claim) string {
	return strings.Join(strings.Fields(strings.Trim(bracketed.ReplaceAllString(c.Cited, "$1"), "()[] .,;")), " ")
}

// Source is the first source that a second-hand claim cites, "" where nobody is
// named.
func Source(c evidence.Claim) string {
	first, _, _ := strings.Cut(Cited(c), ";")
	return strings.TrimSpace(first)
}

// agree reports whether two claims on one factor say the same thing. Of a number
// at which eggs hatched one may say that it served, another that it made no
// difference.
func agree(a, b evidence.Claim) bool {
	numbers := value.HasNumber(a) && value.HasNumber(b)
	if a.Bearing != b.Bearing && !(numbers && a.Category == b.Category && hatched(a) && hatched(b)) {
		return false
	}
	if a.Category != "" && b.Category != "" && a.Category != b.Category {
		return false
	}
	if numbers {
		return a.Unit == b.Unit && value.Meet(a.Factor, value.SpanOf(a), value.SpanOf(b))
	}
	return a.Category == b.Category || a.Category == "" || b.Category == ""
}

func hatched(c evidence.Claim) bool {
	return c.Bearing == evidence.Favours || c.Bearing == evidence.Indifferent
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

package rule

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"hatchlore/evidence/rule/marked"
)

// secondhand reports whether the statement about the target is given as
// somebody else's, and the citation that says so: one in the same part of the
// sentence, or one that closes the sentence.
func (r *reading) secondhand(s *marked.Sentence, t *marked.Target) (bool, string) {
	if c, ok := r.citedFor(s, t); ok {
		return true, s.Page.Text[c.Start:c.End]
	}
	if o := s.Opening; o != nil && len(o.Cites) > 0 {
		if c := o.Cites[len(o.Cites)-1]; o.Part(o.WordAt(c.Start)) == o.Part(len(o.Words)-1) && s.Part(t.At) == 0 {
			return true, o.Page.Text[c.Start:c.End]
		}
	}
	for _, g := range s.Tags {
		if r.Roles.Hearsay.Has(g.Class) && s.Part(g.From) == s.Part(t.At) && attributes(s, g) {
			return true, ""
		}
	}
	return false, ""
}

// citedFor returns the citation on which the target leans: of several the
// nearest, where a name with its year in brackets speaks of what follows it,
// and a bracket with both closes what stands before. A source's own source
// ("citing Alder (1968), who wrote ...") speaks of what follows alone, and one
// behind a comparison ("longer than the 30 days of Alder") of that alone.
func (r *reading) citedFor(s *marked.Sentence, t *marked.Target) (best marked.Span, ok bool) {
	best, ok = r.nearestCited(s, t)
	return r.shareOfCited(s, t, best), ok
}

// shareOfCited is the target's own part of a bracket that cites as many sources
// as triggers were listed before it: "low oxygen and carbon dioxide, named as
// triggers (Alder 1996; Birch 2001)".
func (r *reading) shareOfCited(s *marked.Sentence, t *marked.Target, c marked.Span) marked.Span {
	parts := strings.Split(s.Page.Text[c.Start:c.End], ";")
	if t.Q != nil || len(parts) < 2 {
		return c
	}
	index, n := -1, 0
	for _, o := range s.Targets {
		if o.Q != nil || triggerOf[r.ClassName(o.Class)] == "" || s.Words[o.From].Start > c.Start {
			continue
		}
		if o == t {
			index = n
		}
		n++
	}
	if index < 0 || n != len(parts) {
		return c
	}
	start := c.Start
	for _, p := range parts[:index] {
		start += len(p) + 1
	}
	return marked.Trim(s.Page.Text, start, start+len(parts[index]))
}

// nearestCited returns the whole citation that [reading.citedFor] takes or takes
// its part of.
func (r *reading) nearestCited(s *marked.Sentence, t *marked.Target) (best marked.Span, ok bool) {
	at := s.Words[t.At].Start
	far := 0
	for i, c := range s.Cites {
		word := s.WordAt(c.Start)
		if k := s.ClauseAt(word); k != t.Clause && r.Inserts(s, k) {
			continue // of what is said in between
		}
		before := c.Start < at
		if !before && (s.StepBack(word, r.Roles.Citing) != word || r.comparedBetween(s, t.To, word)) {
			continue
		}
		closing := i == len(s.Cites)-1 && strings.Trim(s.Page.Text[c.End:s.End], " .)\n") == ""
		if !closing && s.Part(word) != s.Part(t.At) {
			continue
		}
		d := c.Start - at
		if before {
			d = at - c.End
		}
		if bracket := s.Page.Text[c.Start] == '(' || s.Page.Text[c.Start] == '['; bracket == before {
			d += s.End - s.Start
		}
		if !ok || d < far {
			best, far, ok = c, d, true
		}
	}
	return best, ok
}

// comparedBetween reports whether a clause of comparison opens at words
// (from, to].
func (r *reading) comparedBetween(s *marked.Sentence, from, to int) bool {
	for _, g := range s.Tags {
		if r.Roles.Comparison.Has(g.Class) && g.From >= from && g.From < to && s.Clauses[s.ClauseAt(g.From)].From == g.From {
			return true
		}
	}
	return false
}

// attributes reports whether a word such as "according to" is followed by a
// name; "pers. comm." needs none.
func attributes(s *marked.Sentence, g marked.Tag) bool {
	if strings.Contains(s.Words[g.From].Fold, "pers") || g.To >= len(s.Words) {
		return true
	}
	first, _ := utf8.DecodeRuneInString(s.Page.Text[s.Words[g.To].Start:])
	return unicode.IsUpper(first)
}

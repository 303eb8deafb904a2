package reason

import (
	"fmt"
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

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

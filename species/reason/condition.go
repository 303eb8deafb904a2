package reason

import (
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/conflict"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// conditions names other factors whose values on the two sides do not meet.
// What came of the eggs is no condition, nor is what papers tried and found to
// make no difference.
func conditions(disputed evidence.Factor, a, b conflict.Side, claims []evidence.Claim, lib *witness.Shelf) []conflict.Reason {
	own := slices.DeleteFunc(slices.Clone(claims), func(c evidence.Claim) bool { return c.Secondhand })
	told := map[about][]evidence.Claim{}
	for _, c := range own {
		told[about{c.Factor, c.Paper}] = append(told[about{c.Factor, c.Paper}], c)
	}
	outcome, _ := evidence.MeasureOf(disputed)
	var out []conflict.Reason
	for _, m := range evidence.Measures() {
		// What sets the hatch off is a finding, and a condition of what came of it.
		if m.Factor == disputed || m.Outcome || m.Factor == evidence.Trigger && !outcome.Outcome || harmless(m.Factor, own) {
			continue
		}
		x := settingOf(m.Factor, a.Leaders(), told)
		y := settingOf(m.Factor, b.Leaders(), told)
		if v, w, ok := x.against(y, m.Factor, own); ok {
			out = append(out, conflict.Reason{Kind: conflict.Conditions, Factor: m.Factor, Papers: slices.Concat(x.papers, y.papers),
				Note: fmt.Sprintf("%s: %s in %s against %s in %s", m.Label, v, lib.Cites(x.papers), w, lib.Cites(y.papers))})
		}
	}
	return out
}

// about is a factor in one paper.
type about struct {
	factor evidence.Factor
	paper  string
}

// harmless reports whether papers tried light or dark and found no difference, and
// none found one.
func harmless(f evidence.Factor, own []evidence.Claim) bool {
	found := false
	for _, c := range own {
		if c.Factor != f || f != evidence.Light {
			continue
		}
		switch s, ok := conflict.StanceOf(c); {
		case ok && s == conflict.Needed:
			return false
		case ok && s == conflict.NotNeeded:
			found = true
		}
	}
	return found
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

// settingOf gathers the values of a factor at which papers worked: those at which
// they saw eggs hatch or that they merely tell of, and of a paper with none such
// those at which it saw no hatch. A paper that treated some eggs and others not, to
// find whether they need it, worked both ways and has no setting.
func settingOf(f evidence.Factor, papers []string, all map[about][]evidence.Claim) setting {
	var s setting
	for _, p := range papers {
		told := all[about{f, p}]
		if slices.ContainsFunc(told, comparesNeed) {
			continue
		}
		worked := slices.DeleteFunc(slices.Clone(told), func(c evidence.Claim) bool { return c.Bearing == evidence.Prevents })
		if len(worked) == 0 {
			worked = told
		}
		for _, c := range worked {
			s.take(c)
		}
	}
	slices.Sort(s.categories)
	return s
}

// comparesNeed reports whether a claim comes of eggs with and without a treatment.
func comparesNeed(c evidence.Claim) bool {
	s, ok := conflict.StanceOf(c)
	return ok && s != conflict.Worked && s != conflict.Survived && (c.Factor == evidence.Drying || c.Factor == evidence.Freezing)
}

// take adds what one claim says. That something is needed, or has no effect, is a
// finding and no setting.
func (s *setting) take(c evidence.Claim) {
	number, word := value.HasNumber(c) && (!s.numbers || c.Unit == s.unit), wordOf(c)
	if !number && word == "" {
		return
	}
	switch {
	case !number:
	case !s.numbers:
		s.numbers, s.unit, s.span = true, c.Unit, value.SpanOf(c)
	default:
		s.span = s.span.Join(value.SpanOf(c))
	}
	if word != "" && !slices.Contains(s.categories, word) {
		s.categories = append(s.categories, word)
	}
	if !slices.Contains(s.papers, c.Paper) {
		s.papers = append(s.papers, c.Paper)
	}
}

// lightCycle stands for any alternation of light and dark: that one had two hours
// more of light explains nothing.
const lightCycle = "light and dark in turn"

// wordOf is the word for a setting that a claim has, "" for none.
func wordOf(c evidence.Claim) string {
	_, finding := conflict.StanceOf(c)
	switch {
	case finding && c.Factor != evidence.Trigger:
		return ""
	case c.Factor == evidence.Light && (strings.Contains(c.Category, ":") || c.Category == "photoperiod-cycle"):
		return lightCycle
	}
	return c.Category
}

// against returns both values where the settings differ: their numbers where
// both have some, else their words.
func (s setting) against(t setting, f evidence.Factor, own []evidence.Claim) (v, w string, differ bool) {
	if len(s.papers) == 0 || len(t.papers) == 0 || slices.Equal(s.papers, t.papers) {
		return "", "", false
	}
	if s.numbers && t.numbers {
		return s.number(), t.number(), s.unit == t.unit && !value.Near(f, s.alike(f, own), t.alike(f, own), enough)
	}
	alike := slices.ContainsFunc(s.categories, func(c string) bool { return slices.Contains(t.categories, c) })
	return witness.Listed(s.categories), witness.Listed(t.categories), len(s.categories) > 0 && len(t.categories) > 0 && !alike
}

// alike is the span of a setting with the values that papers found to make no
// difference to it: "water of 40 to 300 µS/cm made no difference".
func (s setting) alike(f evidence.Factor, own []evidence.Claim) value.Span {
	whole := s.span
	for _, c := range own {
		if same := value.SpanOf(c); c.Factor == f && c.Bearing == evidence.Indifferent && value.HasNumber(c) && c.Unit == s.unit && value.Meet(f, s.span, same) {
			whole = whole.Join(same)
		}
	}
	return whole
}

func (s setting) number() string {
	low, high := s.span.Ends()
	return value.Print(low, high, s.unit, "")
}

package species

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"hatchlore/evidence"
)

// Level is a setting that a trial would need to settle a conflict: one where
// each side stands, and the untreated control.
type Level struct {
	Value    *float64 `json:"value"` // canonical unit; nil for a category
	Unit     string   `json:"unit"`
	Category string   `json:"category"`
	Label    string   `json:"label"`
	Side     int      `json:"side"` // 1 for the first side; 0 for the control and for comparison
	Claims   []string `json:"claims"`
}

// levels returns one level a side and the control, in the order of their
// values. An outcome cannot be set: it has none.
func levels(c Conflict) []Level {
	out := []Level{}
	m, ok := evidence.MeasureOf(c.Factor)
	if !ok || m.Outcome || c.Kind == Silent {
		return out
	}
	untreated := Level{Claims: []string{}}
	for i, s := range c.Sides {
		if c.Kind == Need && s.Bearing == evidence.Indifferent && c.Factor != evidence.Trigger {
			untreated.Side, untreated.Claims = i+1, slices.Clone(s.Claims) // not needed: the untreated egg will do
			continue
		}
		middle := s.span().middle()
		if c.at != nil {
			middle = c.at.middle()
		}
		out = addLevel(out, s.level(i+1, middle))
	}
	if c.Kind == Need && c.Factor != evidence.Trigger {
		out = oneTreatment(out)
	}
	out = append(out, untreated.control(c.Factor, out)...)
	if c.at != nil {
		out = append(out, elsewhere(c, out)...)
	}
	slices.SortStableFunc(out, func(a, b Level) int { return cmp.Compare(a.number(), b.number()) })
	return out
}

// level is where side number i stands.
func (s Side) level(i int, middle float64) Level {
	l := Level{Side: i, Category: s.Category, Claims: slices.Clone(s.Claims)}
	if l.Value = s.stand(middle); l.Value != nil {
		l.Unit, l.Category = s.Unit, "" // a length or a temperature says more than the word
	}
	l.Label = valueOf(l.Value, l.Value, l.Unit, l.Category)
	return l
}

// oneTreatment joins levels that are mere words, "required" and "harmful", to
// the first level with a value, or to one another: all say treat the eggs.
func oneTreatment(levels []Level) []Level {
	if len(levels) < 2 {
		return levels
	}
	first := max(0, slices.IndexFunc(levels, func(l Level) bool { return l.Value != nil }))
	var out []Level
	for i, l := range levels {
		if i != first && l.Value == nil {
			levels[first].Claims = append(levels[first].Claims, l.Claims...)
		}
	}
	for i, l := range levels {
		if i == first || l.Value != nil {
			out = append(out, l)
		}
	}
	return out
}

// addLevel adds l, or its claims to a level with the same setting: sides that
// dispute one value share the level that tests it.
func addLevel(levels []Level, l Level) []Level {
	i := slices.IndexFunc(levels, l.sameSetting)
	if i < 0 {
		return append(levels, l)
	}
	levels[i].Claims = append(levels[i].Claims, l.Claims...)
	return levels
}

func (l Level) sameSetting(m Level) bool {
	if l.Category != m.Category || l.Unit != m.Unit || (l.Value == nil) != (m.Value == nil) {
		return false
	}
	return l.Value == nil || *l.Value == *m.Value
}

// elsewhere is a level to compare a disputed one with: the middle one of the
// other values at which those who saw no hatch there saw eggs hatch, or anybody
// where they saw none at all.
func elsewhere(c Conflict, disputed []Level) []Level {
	for _, sides := range [][]Side{c.Sides[len(c.Sides)-1:], c.Sides} {
		var others []Level
		for v, cl := range favoured(sides, c.Sides[0].Unit) {
			if !slices.ContainsFunc(disputed, func(l Level) bool { return l.Value != nil && math.Abs(v-*l.Value) <= 2*slack(c.Factor, v) }) {
				others = append(others, Level{Value: &v, Unit: cl.Unit, Label: valueOf(&v, &v, cl.Unit, "") + ", for comparison", Claims: []string{cl.ID}})
			}
		}
		if len(others) > 0 {
			slices.SortStableFunc(others, func(a, b Level) int { return cmp.Compare(*a.Value, *b.Value) })
			return others[len(others)/2 : len(others)/2+1]
		}
	}
	return nil
}

// favoured yields the printed ends of what the sources on the sides saw favour.
func favoured(sides []Side, unit string) iter.Seq2[float64, evidence.Claim] {
	return func(yield func(float64, evidence.Claim) bool) {
		for _, s := range sides {
			for _, v := range s.voices {
				for _, c := range v.claims {
					if c.Bearing != evidence.Favours || c.Unit != unit {
						continue
					}
					if c.Low != nil && !yield(*c.Low, c) || c.High != nil && !yield(*c.High, c) {
						return
					}
				}
			}
		}
	}
}

func (l Level) number() float64 {
	if l.Value == nil {
		return math.Inf(1)
	}
	return *l.Value
}

// stand is the value that stands for a side: of those it printed the one
// nearest to middle, so that a source of the side would own the level.
func (s Side) stand(middle float64) *float64 {
	best, far := math.NaN(), math.Inf(1)
	for _, cl := range s.claims {
		for _, v := range []*float64{cl.Low, cl.High} {
			if v != nil && cl.Unit == s.Unit && math.Abs(*v-middle) < far {
				best, far = *v, math.Abs(*v-middle)
			}
		}
	}
	if math.IsNaN(best) {
		return nil
	}
	return &best
}

// control makes l the egg without the treatment, where there is such a thing.
func (l Level) control(f evidence.Factor, sides []Level) []Level {
	zero := 0.0
	switch f {
	case evidence.Drying, evidence.ColdLength, evidence.StorageLength:
		l.Value, l.Unit, l.Label = &zero, "d", "control, 0 d"
	case evidence.Freezing:
		l.Category, l.Label = "none", "control, not frozen"
	case evidence.Trigger:
		l.Category, l.Label = "none", "control, no trigger"
	case evidence.Light:
		l.Category, l.Label = "dark", "control, dark"
	default:
		return nil // water has always some temperature, salt and oxygen
	}
	if i := slices.IndexFunc(sides, l.sameSetting); i >= 0 {
		sides[i].Claims = append(sides[i].Claims, l.Claims...)
		return nil
	}
	return []Level{l}
}

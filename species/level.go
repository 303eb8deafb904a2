package species

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"hatchlore/evidence"
)

// Level is a setting that a trial would need to settle a conflict: one where
// each side stands, one to compare a disputed value with, and the untreated
// control. Sides that dispute one value have levels with the same setting and
// the same label.
type Level struct {
	Value    *float64         `json:"value"` // canonical unit; nil for a category
	Unit     string           `json:"unit"`
	Category string           `json:"category"` // beside a value: what the side says of the need for it
	Label    string           `json:"label"`
	Side     int              `json:"side"`    // 1 for the first side; 0 for the control and for comparison
	Bearing  evidence.Bearing `json:"bearing"` // what the side says the level does; "" on side 0
	Claims   []string         `json:"claims"`
}

// levels returns one level a side, then what to compare with, in the order of
// their values. An outcome cannot be set: it has none. Nor is a value tried that
// stands on hearsay alone and would be another side's in the right unit: 50 °C
// would kill the eggs that 50 °F hatched.
func levels(c Conflict) []Level {
	out := []Level{}
	m, ok := evidence.MeasureOf(c.Factor)
	if !ok || m.Outcome || c.Kind == Silent {
		return out
	}
	for i, s := range c.Sides {
		if c.mistaken(s) {
			continue
		}
		l := s.level(i+1, c)
		l.Label = l.words(c)
		out = append(out, l)
	}
	if len(out) < 2 && len(c.Sides) > 1 {
		return []Level{}
	}
	if c.at != nil {
		out = append(out, elsewhere(c, out)...)
	}
	out = append(out, control(c.Factor, out)...)
	slices.SortStableFunc(out, func(a, b Level) int { return cmp.Compare(a.number(), b.number()) })
	return out
}

// mistaken reports whether a side is a slip of unit: it has no finding of its own,
// and a reason says so of one of its papers.
func (c Conflict) mistaken(s Side) bool {
	return s.Firsthand == 0 && len(s.Torn) == 0 && slices.ContainsFunc(c.Reasons, func(r Reason) bool {
		return r.Kind == UnitSlip && slices.Contains(s.Papers, r.paper)
	})
}

// level is where side number i stands.
func (s Side) level(i int, c Conflict) Level {
	l := Level{Side: i, Bearing: s.Bearing, Category: s.Category, Claims: slices.Clone(s.Claims)}
	switch {
	case c.at != nil:
		l.Value, l.Category = disputed(c), ""
	case c.Kind == Need && c.Factor != evidence.Trigger:
		if s.Bearing != evidence.Indifferent {
			l.Value = treatment(s, c)
			break
		}
		l.Category = cmp.Or(l.Category, string(notNeeded))
		if u := controls[c.Factor].Unit; u != "" {
			l.Value, l.Unit = new(float64), u
			return l
		}
	default:
		if l.Value = s.stand(s.span().middle()); l.Value != nil {
			l.Category = ""
		}
	}
	if l.Value != nil {
		l.Unit = c.unit()
	}
	return l
}

// words is the label of a side's level.
func (l Level) words(c Conflict) string {
	if c.Kind == Need && c.Factor != evidence.Trigger && l.Bearing == evidence.Indifferent {
		return controls[c.Factor].Label // not needed: the untreated egg will do
	}
	if l.Value != nil {
		return valueOf(l.Value, l.Value, l.Unit, "")
	}
	return l.Category
}

func (c Conflict) unit() string {
	for _, s := range c.Sides {
		if s.Unit != "" {
			return s.Unit
		}
	}
	return ""
}

// disputed is the value at which some saw eggs hatch and others none: of the
// values in that range the one that the hatching side printed.
func disputed(c Conflict) *float64 {
	last := c.Sides[len(c.Sides)-1].stand(c.at.middle())
	for _, s := range c.Sides[:len(c.Sides)-1] {
		if v := s.stand(c.at.middle()); v != nil && *v >= c.at.low && *v <= c.at.high && c.at.low != c.at.high {
			return v
		}
	}
	return last
}

// treatment is how long or how cold a side treated the eggs; a side that only
// says that it is needed, or harms, borrows the value of the first that told
// one.
func treatment(s Side, c Conflict) *float64 {
	for _, t := range append([]Side{s}, c.Sides...) {
		if v := t.stand(t.span().middle()); v != nil && t.Bearing != evidence.Indifferent {
			return v
		}
	}
	return nil
}

func (l Level) sameSetting(m Level) bool {
	if l.Unit != m.Unit || (l.Value == nil) != (m.Value == nil) {
		return false
	}
	if l.Value == nil {
		return l.Category == m.Category
	}
	return *l.Value == *m.Value
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

// controls are the eggs without the treatment, for factors that have such a
// thing: water has always some temperature, salt and oxygen.
var controls = map[evidence.Factor]Level{
	evidence.Drying:        {Unit: "d", Label: "control, 0 d"},
	evidence.ColdLength:    {Unit: "d", Label: "control, 0 d"},
	evidence.StorageLength: {Unit: "d", Label: "control, 0 d"},
	evidence.Freezing:      {Category: "none", Label: "control, not frozen"},
	evidence.Trigger:       {Category: "none", Label: "control, no trigger"},
	evidence.Light:         {Category: "dark", Label: "control, dark"},
}

// control is the untreated level, unless a side stands there already.
func control(f evidence.Factor, sides []Level) []Level {
	l, ok := controls[f]
	if !ok || slices.ContainsFunc(sides, func(s Level) bool { return s.Label == l.Label }) {
		return nil
	}
	l.Claims = []string{}
	if l.Unit != "" {
		zero := 0.0
		l.Value = &zero
	}
	if slices.ContainsFunc(sides, l.sameSetting) {
		return nil
	}
	return []Level{l}
}

package species

import (
	"cmp"
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
	for i, s := range c.Sides {
		out = addLevel(out, s.level(c.Kind, i+1))
	}
	out = append(out, control(c.Factor, out)...)
	if len(out) == 1 {
		out = append(out, elsewhere(c, out[0])...)
	}
	slices.SortStableFunc(out, func(a, b Level) int { return cmp.Compare(a.number(), b.number()) })
	return out
}

// level is where side number i stands.
func (s Side) level(kind Kind, i int) Level {
	l := Level{Side: i, Category: s.Category, Claims: slices.Clone(s.Claims)}
	if l.Value = s.stand(); l.Value != nil {
		l.Unit = s.Unit
		if kind != Need {
			l.Category = ""
		}
	}
	l.Label = valueOf(l.Value, l.Value, l.Unit, l.Category)
	return l
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

// elsewhere is a level to compare a single disputed one with: the nearest
// value at which a source of either side saw eggs hatch.
func elsewhere(c Conflict, disputed Level) []Level {
	if disputed.Value == nil {
		return nil
	}
	var best Level
	for _, s := range c.Sides {
		for _, v := range s.voices {
			for _, cl := range v.claims {
				for _, x := range []*float64{cl.Low, cl.High} {
					if x == nil || cl.Bearing != evidence.Favours || cl.Unit != disputed.Unit || math.Abs(*x-*disputed.Value) <= slack(c.Factor, *x) {
						continue
					}
					if best.Value == nil || math.Abs(*x-*disputed.Value) < math.Abs(*best.Value-*disputed.Value) {
						best = Level{Value: x, Unit: cl.Unit, Label: valueOf(x, x, cl.Unit, "") + ", for comparison", Claims: []string{cl.ID}}
					}
				}
			}
		}
	}
	if best.Value == nil {
		return nil
	}
	return []Level{best}
}

func (l Level) number() float64 {
	if l.Value == nil {
		return math.Inf(1)
	}
	return *l.Value
}

// stand is the value that stands for a side: the middle of what it saw, so
// that the level is one that a source of the side would own; the printed end
// where the range is open.
func (s Side) stand() *float64 {
	best, far := math.NaN(), math.Inf(1)
	middle := s.span().middle()
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

// control is the egg without the treatment, where there is such a thing.
func control(f evidence.Factor, sides []Level) []Level {
	zero := 0.0
	l := Level{Label: "control", Claims: []string{}}
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
	if slices.ContainsFunc(sides, l.sameSetting) {
		return nil
	}
	return []Level{l}
}

package trial

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
)

// Level is where one side of a disagreement stands.
type Level struct {
	Value    *float64         `json:"value"` // in the factor's canonical unit; nil for a category
	Category string           `json:"category"`
	Label    string           `json:"label"`
	Claims   []string         `json:"claims"`
	Side     int              `json:"side"`    // 1, 2, ...; 0 is a level to compare with; all 0: each level is a side of its own
	Bearing  evidence.Bearing `json:"bearing"` // what the side says the level does; "" is favours
}

// Kinds of question; they are those of conflicts.
const (
	KindApart   = "apart"   // both sides hatch eggs, at levels that do not meet
	KindOpposed = "opposed" // one side hatches eggs where the other does not
	KindNeed    = "need"    // one side needs the treatment, the other does not
)

// Question is a disagreement that the trial is to settle.
type Question struct {
	ID     string          `json:"id"`
	Kind   string          `json:"kind"` // "" for a factor that is merely of interest
	Factor evidence.Factor `json:"factor"`
	Unit   string          `json:"unit"`
	Levels []Level         `json:"levels"`
}

// Setting returns what a level means for a dish, of the factor that m measures.
func (l Level) Setting(m evidence.Measure) (Setting, error) {
	if l.Value != nil {
		return numberSetting(m, *l.Value)
	}
	return categorySetting(m, l.Category)
}

// FactorOf returns the index of the factor that stands for a question, -1 where
// the plan has none.
func (p *Plan) FactorOf(q Question) int {
	return slices.IndexFunc(p.Factors, func(f Factor) bool { return slices.Contains(f.Conflicts, q.ID) })
}

// Side is one side of a question with the levels of the design it stands on.
type Side struct {
	Number  int
	Words   string    // its levels in words
	Levels  []Setting // of the factor; empty where the design has none of them
	Need    string    // for a question of need: required, helpful, tolerated, harmful or not-required
	Bearing evidence.Bearing
}

// Sides returns the sides of the question, in the order of their numbers, with
// those of their levels that factor f has.
func (q Question) Sides(f Factor) []Side {
	m, _ := evidence.MeasureOf(f.ID)
	own := !slices.ContainsFunc(q.Levels, func(l Level) bool { return l.Side > 0 })
	var out []Side
	for i, l := range q.Levels {
		number := l.Side
		if own {
			number = i + 1
		}
		if number < 1 {
			continue
		}
		k := slices.IndexFunc(out, func(s Side) bool { return s.Number == number })
		if k < 0 {
			k = len(out)
			out = append(out, Side{Number: number, Need: l.needWord(), Bearing: l.Bearing})
		}
		set, err := l.Setting(m)
		if err == nil && slices.Contains(f.Levels, set) && !slices.Contains(out[k].Levels, set) {
			out[k].Levels = append(out[k].Levels, set)
		}
		words := cmp.Or(l.Label, l.Category)
		if words == "" && err == nil {
			words = set.In(f.Unit)
		}
		if !strings.Contains(out[k].Words, words) {
			out[k].Words = strings.TrimPrefix(out[k].Words+", "+words, ", ")
		}
	}
	slices.SortStableFunc(out, func(a, b Side) int { return a.Number - b.Number })
	return out
}

// needWord is what the level's side says of the need for a treatment.
func (l Level) needWord() string {
	switch l.Category {
	case "required", "helpful", "harmful", "tolerated", "not-required":
		return l.Category
	case "light-required":
		return "required"
	}
	switch l.Bearing {
	case evidence.Prevents:
		return "harmful"
	case evidence.Indifferent:
		return "not-required"
	}
	return "helpful"
}

// NeedGroups returns the levels by which the need for a treatment is told: the bare
// one, none where the factor lacks it, and the treated levels on which the sides
// stand. What another trigger did says nothing of theirs; but any drying will do for
// eggs that are said to need some length of it which the factor does not have.
func (f Factor) NeedGroups(sides []Side) (bare, treated []Setting) {
	none, _ := Bare(f.ID)
	for _, l := range f.Levels {
		switch {
		case l == none:
			bare = append(bare, l)
		case slices.ContainsFunc(sides, func(s Side) bool { return slices.Contains(s.Levels, l) }):
			treated = append(treated, l)
		}
	}
	if len(treated) == 0 && f.ID != evidence.Trigger {
		treated = slices.DeleteFunc(slices.Clone(f.Levels), func(l Setting) bool { return l == none })
	}
	return bare, treated
}

// Outright reports whether a side says that a level hatches none: such sides
// are judged by what hatched at their levels rather than by which hatched more.
func Outright(sides []Side) bool {
	return slices.ContainsFunc(sides, func(s Side) bool { return s.Bearing == evidence.Prevents })
}

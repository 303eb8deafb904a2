package marked

import (
	"math"
	"slices"
	"strconv"

	"hatchlore/evidence/quantity"
	"hatchlore/evidence/rule/lexicon"
)

// bounded opens a value at one end where a word beside the quantity says so
// that is no part of it: "three weeks at the earliest", "below pH 6".
func (r *Text) bounded(s *Sentence, q *quantity.Quantity, items []quantity.Item, from, to int) {
	const beside = 4
	ro := r.Roles
	floor, ceiling := false, false
	for _, g := range s.Tags {
		right := g.To == from || g.To == from-1 && len(s.Words[g.To].Fold) <= 3 && s.Words[from].Before == 0 && s.Words[from-1].Before == 0 // "not before the tenth day"
		if right && ro.Reached.Has(g.Class) {
			exact(items)
		}
		behind := g.From >= to && g.From-to < beside && !s.broken(to+1, g.From-1)
		switch {
		case g.To == from && ro.DownTo.Has(g.Class) && q.Kind == quantity.Temperature && s.Has.Meets(ro.Hatch) && s.StepBack(g.From, ro.Lowering) == g.From:
			floor = true // "they hatch down to 14 °C"
		case ro.Earliest.Has(g.Class) && (right || behind):
			floor = true
		case ro.Latest.Has(g.Class) && (right || behind):
			ceiling = true
		case right && q.Kind == quantity.Acidity && ro.Above.Has(g.Class):
			floor = true
		case right && q.Kind == quantity.Acidity && ro.Below.Has(g.Class):
			ceiling = true
		}
	}
	for i := range items {
		it := &items[i]
		if it.Low == nil || it.High == nil || *it.Low != *it.High {
			continue
		}
		if floor && !ceiling {
			it.High = nil
		} else if ceiling && !floor {
			it.Low = nil
		}
	}
}

// exact closes bounds: "bring the bottle up to 27 °C" names a value.
func exact(items []quantity.Item) {
	for i := range items {
		if it := &items[i]; it.Low == nil {
			it.Low = it.High
		}
	}
}

// asLevels reads a share as the level of a condition counted in the same
// sign, where a sentence before listed that very level: "at 5, 25 and 100 %
// air saturation. ... At 5 % no egg hatched".
func (r *Text) asLevels(s *Sentence, q *quantity.Quantity, items []quantity.Item, from int) (class int, kind, unit string) {
	const back = 3
	if q.Kind != quantity.Fraction || s.StepBack(from, r.Roles.Prep) == from {
		return 0, "", ""
	}
	for d := 1; d <= back; d++ {
		before := r.Beside(s, -d)
		if before == nil {
			break
		}
		for _, kind := range []struct {
			name  string
			unit  string
			scale float64 // of the level to the share
		}{{"oxygen", "%sat", 1}, {"salinity", "g/L", 0.1}} {
			levels := before.levelsOf(kind.name, kind.unit)
			if len(levels) < 2 || slices.ContainsFunc(items, func(it quantity.Item) bool { return !among(levels, it, kind.scale) }) {
				continue
			}
			for i := range items {
				low, high := *items[i].Low/kind.scale, *items[i].High/kind.scale
				items[i].Low, items[i].High = &low, &high
			}
			return r.Classes[kind.name], kind.name, kind.unit
		}
	}
	return 0, "", ""
}

// levelsOf returns the listed values of a kind of quantity in a unit.
func (s *Sentence) levelsOf(kind, unit string) (out []float64) {
	for _, t := range s.Targets {
		if t.Kind == kind && t.Unit == unit && t.Siblings > 1 && t.Low != nil && t.High != nil && *t.Low == *t.High {
			out = append(out, *t.Low)
		}
	}
	return out
}

func among(levels []float64, it quantity.Item, scale float64) bool {
	return it.Low != nil && it.High != nil && slices.ContainsFunc(levels, func(v float64) bool {
		return math.Abs(v*scale-*it.Low) < 1e-6 && *it.Low == *it.High
	})
}

// movedTo reports whether eggs are moved by the range at word from: "transferred
// from 80 to 10 g/L".
func (r *Text) movedTo(s *Sentence, from int) bool {
	const near = 3
	for _, g := range s.Tags {
		if r.Roles.Moved.Has(g.Class) && g.To <= from && from-g.To < near {
			return true
		}
	}
	return false
}

// lastOf is the end of a range that is printed last.
func lastOf(s *Sentence, q *quantity.Quantity, it quantity.Item) quantity.Item {
	first := 0.0
	for _, w := range lexicon.Words(q.Text, 0, len(q.Text)) {
		if v, err := strconv.ParseFloat(w.Fold, 64); err == nil {
			first = v
			break
		}
	}
	end := it.Low // printed downwards
	if low := *q.Items[0].Low; first == low {
		end = it.High
	}
	it.Low, it.High = end, end
	return it
}

// change splits a range that tells a change, "lifted the hatch from 14 to
// 69 %", into the value before and the value after.
func (r *Text) change(s *Sentence, q *quantity.Quantity, items []quantity.Item, from int) []quantity.Item {
	const near = 10
	if len(items) == 1 && q.Kind != quantity.Fraction && items[0].Low != nil && items[0].High != nil && *items[0].Low < *items[0].High && r.movedTo(s, from) {
		return []quantity.Item{lastOf(s, q, items[0])}
	}
	if q.Kind != quantity.Fraction || len(items) != 1 || items[0].Low == nil || items[0].High == nil || *items[0].Low == *items[0].High {
		return items
	}
	for _, g := range s.Tags {
		if r.Roles.Change.Has(g.Class) && g.To <= from+1 && from-g.To < near {
			a, b := items[0], items[0]
			a.High, b.Low = a.Low, b.High
			return []quantity.Item{a, b}
		}
	}
	return items
}

package quantity

import "fmt"

// canonicalUnits are the units of the evidence table, by kind.
var canonicalUnits = map[Kind]Unit{
	Temperature:  DegC,
	Duration:     Day,
	Fraction:     Percent,
	Conductivity: MicroS,
	Salinity:     GramL,
	Acidity:      One,
	Oxygen:       MgL,
	Photoperiod:  Hour,
	Length:       Milli,
}

// CanonicalUnit returns the unit in which the evidence table shows q: that of
// its kind, except that a share of oxygen saturation and a count keep their
// own. It is "" for [Other].
func (q Quantity) CanonicalUnit() Unit {
	if q.Unit == PctSat || q.Kind == Count {
		return q.Unit
	}
	return canonicalUnits[q.Kind]
}

// Canonical returns q's items in the canonical unit of its kind, with the same
// spans. It returns an error for a quantity of a kind that has none.
func (q Quantity) Canonical() ([]Item, Unit, error) {
	to := q.CanonicalUnit()
	if to == "" {
		return nil, "", fmt.Errorf("%q: no canonical unit for %s", q.Text, q.Unit)
	}
	items, err := convertItems(q.Items, q.Unit, to, q.Difference)
	if err != nil {
		return nil, "", fmt.Errorf("%q: %w", q.Text, err)
	}
	return items, to, nil
}

func convertItems(items []Item, from, to Unit, step bool) ([]Item, error) {
	convert := Convert
	if step {
		convert = ConvertStep
	}
	out := make([]Item, len(items))
	for i, it := range items {
		out[i] = Item{Start: it.Start, End: it.End}
		for _, v := range []struct {
			in  *float64
			out **float64
			by  func(float64, Unit, Unit) (float64, error)
		}{{it.Low, &out[i].Low, convert}, {it.High, &out[i].High, convert}, {it.Spread, &out[i].Spread, ConvertStep}} {
			if v.in == nil {
				continue
			}
			c, err := v.by(*v.in, from, to)
			if err != nil {
				return nil, err
			}
			*v.out = &c
		}
	}
	return out, nil
}

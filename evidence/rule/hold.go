package rule

import "hatchlore/evidence"

// survivals turns frost after which eggs hatched into frost that they bear,
// where eggs without it hatched too.
func (r *reading) survivals(found []*finding) {
	for i, f := range found {
		if f.factor != evidence.Freezing || f.bearing != evidence.Favours || f.low == nil && f.high == nil || f.category != "" {
			continue
		}
		for _, g := range around(found, i) {
			if g != f && g.factor == f.factor && g.bearing == evidence.Indifferent && near(f, g) && shareName(f, g) {
				f.bearing, f.category = evidence.Indifferent, "tolerated"
			}
		}
	}
}

// coldHolds turns the temperature of a cold period into one under which eggs
// got ready to hatch, where only the shorter of its lengths had no effect.
func (r *reading) coldHolds(found []*finding) {
	for i, f := range found {
		if f.factor != evidence.ColdTemperature || f.bearing != evidence.Prevents {
			continue
		}
		for _, g := range around(found, i) {
			if g.factor == evidence.ColdLength && g.bearing == evidence.Favours && g.s.Index >= f.s.Index && near(f, g) && shareName(f, g) {
				f.bearing = evidence.Favours
			}
		}
	}
}

package design

import (
	"cmp"
	"fmt"
	"slices"

	"hatchlore/evidence"
	"hatchlore/evidence/trial"
)

// Incubation temperature when nothing is asked: the warmest chamber below the
// limit that cold-water pool species are kept under (60 °F), else 10 °C. Common
// practice, no source.
const (
	coldWaterLimit    = 15.6
	defaultIncubation = 10
)

// incubation returns the temperature at which all dishes of a plot incubate.
func incubation(factors []factor, plot []trial.Setting, fixed []trial.Fixed) float64 {
	i := 0
	for _, f := range factors {
		if f.ID == evidence.WarmTemperature {
			return plot[i].Number
		}
		if f.WholePlot {
			i++
		}
	}
	for _, x := range fixed {
		if x.ID == evidence.WarmTemperature {
			return x.Setting.Number
		}
	}
	return defaultIncubation
}

// fixIncubation adds the incubation temperature to the fixed conditions when no
// factor or hand sets it.
func (s *settled) fixIncubation(factors []factor, fixed []trial.Fixed) ([]trial.Fixed, error) {
	for _, f := range factors {
		if f.ID == evidence.WarmTemperature {
			return fixed, nil
		}
	}
	for _, x := range fixed {
		if x.ID == evidence.WarmTemperature {
			return fixed, nil
		}
	}
	t, why := float64(defaultIncubation), "no chamber is named: what cold-water pool species are often kept at"
	if len(s.Chambers) > 0 {
		t, why = s.usualTemperature()
	}
	return append(fixed, trial.Fixed{ID: evidence.WarmTemperature, Unit: "degC", Setting: trial.Num(t), Why: why}), nil
}

func (s *settled) usualTemperature() (t float64, why string) {
	found := false
	for _, c := range s.Chambers {
		if high := min(c.High, coldWaterLimit); high >= c.Low && (!found || high > t) {
			t, found = high, true
		}
	}
	if found {
		return t, fmt.Sprintf("the warmest chamber setting under %v °C", coldWaterLimit)
	}
	t = slices.MinFunc(s.Chambers, func(a, b trial.Chamber) int { return cmp.Compare(a.Low, b.Low) }).Low
	return t, "the coolest chamber"
}

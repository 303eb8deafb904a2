package value

import (
	"slices"

	"hatchlore/evidence"
)

// Slipped is what a value would be had its unit or its decimal point gone wrong
// in print.
type Slipped struct {
	Span
	How string // with %s where the value goes
}

// slips are conversions that could have been left out or done twice.
var slips = []struct {
	factors []evidence.Factor
	apply   func(float64) float64
	how     string
}{
	{[]evidence.Factor{evidence.WarmTemperature, evidence.ColdTemperature, evidence.Freezing},
		func(v float64) float64 { return (v - 32) / 1.8 }, "read as °F it would be %s"},
	{[]evidence.Factor{evidence.Conductivity, evidence.Salinity, evidence.Oxygen},
		func(v float64) float64 { return v / 10 }, "with its decimal point one place on it would be %s"},
	{[]evidence.Factor{evidence.Conductivity, evidence.Salinity, evidence.Oxygen},
		func(v float64) float64 { return v / 1000 }, "in a unit a thousand times smaller it would be %s"},
}

// Slips returns what a value of a factor could have been meant as.
func Slips(f evidence.Factor, s Span) []Slipped {
	var out []Slipped
	for _, slip := range slips {
		turned := Span{slip.apply(s.Low), slip.apply(s.High)}
		if slices.Contains(slip.factors, f) && turned != s {
			out = append(out, Slipped{turned, slip.how})
		}
	}
	return out
}

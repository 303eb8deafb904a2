// Package value treats what claims say of their factor as values that can be
// printed and compared: in canonical units, as spans with open ends, near or far
// by what rounding and conversion may do to the factor.
//
// It refuses to know papers, species and what a value did to the eggs.
package value

import (
	"math"
	"slices"
	"strconv"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
)

// Of prints what a claim says of its factor, in canonical units: "30 d",
// "≥ 90 d", "required, 28 d", "low-oxygen".
func Of(c evidence.Claim) string { return Print(c.Low, c.High, c.Unit, c.Category) }

// Print is [Of] for a value that no claim holds.
func Print(low, high *float64, unit, category string) string {
	number := quantity.FormatRange(shown(low, unit), shown(high, unit), quantity.Unit(unit))
	switch {
	case number == "":
		return category
	case category == "":
		return number
	}
	return category + ", " + number
}

// shown rounds what conversion made of a printed number: 45 °F is 7.2 °C and no
// finer, 40 h are 1.7 d.
func shown(v *float64, unit string) *float64 {
	if v == nil || unit != "degC" && unit != "d" {
		return v
	}
	parts := 10.0
	if unit == "d" && math.Abs(*v) < 1 {
		parts = 100
	}
	r := math.Round(parts**v) / parts
	return &r
}

// bearings is what a value can do to the eggs, in the order of the listings.
var bearings = []evidence.Bearing{evidence.Favours, evidence.Prevents, evidence.Indifferent, evidence.Reported}

// Bearings returns what a value can do to the eggs, in the order of the listings.
func Bearings() []evidence.Bearing { return slices.Clone(bearings) }

// CompareBearings orders what values did as the listings do.
func CompareBearings(a, b evidence.Bearing) int {
	return slices.Index(bearings, a) - slices.Index(bearings, b)
}

// Number tells the number of a claim from every other that differs within five
// digits, or in its unit. It is no print for readers.
func Number(c evidence.Claim) string { return end(c.Low) + " " + end(c.High) + " " + c.Unit }

func end(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'g', 5, 64)
}

// Package quantity finds numbers with units in text and converts them. A
// quantity keeps what was printed and where; canonical values are computed
// beside it, never in its place.
//
// It refuses a number without a unit (pH and counts of eggs have one), and a
// conversion between units of different kinds. Where the unit is said but not
// printed plainly ("15 to 25 degrees", "a salinity of 35", "10 oC") it reads
// the quantity and marks it [Quantity.Guessed].
//
// The words it knows stand in words/, one file per language; a language is
// added there, without code.
package quantity

import "math"

// Kind says what is measured.
type Kind string

const (
	Temperature  Kind = "temperature"
	Duration     Kind = "duration"
	Fraction     Kind = "fraction" // % and ‰ of things counted
	Conductivity Kind = "conductivity"
	Salinity     Kind = "salinity" // g/L, ppt, psu, ‰ of salt
	Acidity      Kind = "ph"
	Oxygen       Kind = "oxygen"      // mg/L, % saturation where the text says so
	Photoperiod  Kind = "photoperiod" // hours of light; with two items, light and dark as in 12:12
	Length       Kind = "length"
	Count        Kind = "count" // eggs, cysts, nauplii; "23 of 40 eggs" is a Fraction with its counts
	Other        Kind = "other"
)

// Unit is a unit's id as files carry it: degC degF K s min h d wk mo yr %
// permille ppt psu ppm mg/L g/L uS/cm mS/cm mm um and more. A compound that no
// table knows keeps its parts, as in W/m2.
type Unit string

// Item is one value of a quantity, in the unit as printed.
//
// A single value has Low and High equal. A range has both and they differ; a
// range that was printed downwards is turned round. A bound has one of them:
// "at least 30 d" has no High, "up to 80 %" and "within 17 days" no Low. Bounds
// are taken from the words beside the number, so "not more than" is a High.
// A deviation alone ("±5 %") has neither, only its Spread.
type Item struct {
	Start, End int // bytes, the number alone, from the low end of a range to its high end
	Low, High  *float64
	Spread     *float64 // what follows ±
}

// Quantity is one number, range or list with its unit. Spans are bytes.
type Quantity struct {
	Start, End int
	Text       string
	Kind       Kind
	Unit       Unit
	Items      []Item // one, or several for a list ("10, 15 and 20 °C")
	Difference bool   // a step between temperatures ("3 °C cooler"), no temperature itself
	Approx     bool   // about, ca., ~
	Implied    bool   // a word that hides a number ("refrigerated")
	Guessed    bool   // the unit is not printed plainly here: bare degrees, "10 oC", a unit said once for two values
	Ordinal    bool   // a point on a clock ("day 9", "in the 15th minute"), not a length; a week so counted is a range
	Each       bool   // the values belong one each to several things ("63 and 48 %, respectively"; "the difference between 34 and 38 °C")
	Of         *Counts
}

// Counts are the counts behind a fraction that the text prints as such.
type Counts struct{ Part, Whole int }

// Same reports whether two ends of values are one: both open, or equal but for
// rounding in the conversion of units.
func Same(a, b *float64) bool {
	if a == nil || b == nil {
		return a == b
	}
	return math.Abs(*a-*b) <= 1e-6*math.Max(1, math.Abs(*a))
}

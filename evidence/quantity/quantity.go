// Package quantity finds numbers with units in text and converts them. A
// quantity keeps what was printed and where; canonical values are computed
// beside it, never in its place.
//
// It refuses a number without a unit (pH and counts of eggs have one), and a
// conversion between units of different kinds.
package quantity

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
	Photoperiod  Kind = "photoperiod" // light to dark in hours, as in 12:12
	Length       Kind = "length"
	Count        Kind = "count" // eggs, cysts, nauplii; "23 of 40 eggs" is a Fraction with its counts
	Other        Kind = "other"
)

// Unit is a unit's id as files carry it: degC degF K s min h d wk mo yr %
// permille ppt psu ppm mg/L g/L uS/cm mS/cm mm um and more.
type Unit string

// Item is one value of a quantity, in the unit as printed. Low and High are
// nil when open; they are equal for a single value.
type Item struct {
	Start, End int // bytes, the number alone
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
	Of         *Counts
}

// Counts are the counts behind a fraction that the text prints as such.
type Counts struct{ Part, Whole int }

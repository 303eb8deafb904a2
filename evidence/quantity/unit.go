package quantity

import (
	"fmt"
	"math"
)

// Units that the package itself speaks of.
const (
	DegC    Unit = "degC"
	DegF    Unit = "degF"
	Kelvin  Unit = "K"
	Hour    Unit = "h"
	Day     Unit = "d"
	Percent Unit = "%"
	PctSat  Unit = "%sat"
	PSU     Unit = "psu"
	GramL   Unit = "g/L"
	MgL     Unit = "mg/L"
	MicroS  Unit = "uS/cm"
	Milli   Unit = "mm"
	One     Unit = "1"    // pH
	Eggs    Unit = "eggs" // eggs, cysts, ephippia
	Larvae  Unit = "larvae"
)

// dimension is what two units must share to be converted into each other.
type dimension uint8

const (
	temperature dimension = iota + 1
	duration
	share // of a whole
	salt  // per litre of water; 1 psu, 1 ‰ and 1 g/kg of salt are taken as 1 g/L
	oxygen
	conductivity
	length
	mass
	volume
	acidity
	counted
)

// measure places a unit in a dimension: base = value*factor + offset.
type measure struct {
	dim            dimension
	factor, offset float64
}

// unitInfo is what is known of a unit: the kind it means unless the text says
// otherwise, how it is printed, and its measures. A unit may have several: one
// per mille is a share of things counted, and a salinity.
type unitInfo struct {
	kind     Kind
	print    string
	measures []measure
}

// units holds every unit that can be converted. Base units are the canonical
// ones. A month is 30 d and a year 365 d, as the labelled passages count them;
// Fahrenheit, Kelvin and mho are exact by definition.
var units = map[Unit]unitInfo{
	DegC:   {Temperature, "°C", one(temperature, 1)},
	DegF:   {Temperature, "°F", []measure{{temperature, 1 / 1.8, -32 / 1.8}}},
	Kelvin: {Temperature, "K", []measure{{temperature, 1, -273.15}}},

	"ms":  {Other, "ms", one(duration, 1e-3/86400)},
	"s":   {Duration, "s", one(duration, 1./86400)},
	"min": {Duration, "min", one(duration, 1./1440)},
	Hour:  {Duration, "h", one(duration, 1./24)},
	Day:   {Duration, "d", one(duration, 1)},
	"wk":  {Duration, "wk", one(duration, 7)},
	"mo":  {Duration, "mo", one(duration, 30)},
	"yr":  {Duration, "yr", one(duration, 365)},

	Percent:    {Fraction, "%", []measure{{share, 1, 0}, {salt, 10, 0}}},
	"wt%":      {Other, "wt%", one(salt, 10)},
	"permille": {Fraction, "‰", []measure{{share, 0.1, 0}, {salt, 1, 0}}},
	PctSat:     {Oxygen, "% saturation", nil},
	"ppt":      {Salinity, "ppt", []measure{{salt, 1, 0}, {share, 0.1, 0}}},
	"ppm":      {Other, "ppm", []measure{{salt, 1e-3, 0}, {oxygen, 1, 0}, {share, 1e-4, 0}}},
	PSU:        {Salinity, "psu", one(salt, 1)},
	"g/kg":     {Salinity, "g/kg", one(salt, 1)},
	GramL:      {Salinity, "g/L", []measure{{salt, 1, 0}, {oxygen, 1e3, 0}}},
	MgL:        {Other, "mg/L", []measure{{salt, 1e-3, 0}, {oxygen, 1, 0}}},
	"ug/L":     {Other, "µg/L", []measure{{salt, 1e-6, 0}, {oxygen, 1e-3, 0}}},
	"mL/L":     {Other, "mL/L", one(oxygen, 1.429)}, // of oxygen gas at 0 °C and 1 atm, 1.429 g/L (handbook value)
	"mg/mL":    {Other, "mg/mL", one(salt, 1)},
	"kg/m3":    {Other, "kg/m³", one(salt, 1)},

	MicroS:  {Conductivity, "µS/cm", one(conductivity, 1)},
	"mS/cm": {Conductivity, "mS/cm", one(conductivity, 1e3)},
	"dS/m":  {Conductivity, "dS/m", one(conductivity, 1e3)},
	"mS/m":  {Conductivity, "mS/m", one(conductivity, 10)},
	"uS/m":  {Conductivity, "µS/m", one(conductivity, 0.01)},
	"S/m":   {Conductivity, "S/m", one(conductivity, 1e4)},
	"S/cm":  {Conductivity, "S/cm", one(conductivity, 1e6)},
	"uS":    {Conductivity, "µS", one(conductivity, 1)}, // keepers' texts leave "per cm" out
	"mS":    {Conductivity, "mS", one(conductivity, 1e3)},

	"nm":  {Length, "nm", one(length, 1e-6)},
	"um":  {Length, "µm", one(length, 1e-3)},
	Milli: {Length, "mm", one(length, 1)},
	"cm":  {Length, "cm", one(length, 10)},
	"m":   {Length, "m", one(length, 1e3)},
	"km":  {Length, "km", one(length, 1e6)},
	"in":  {Length, "in", one(length, 25.4)},
	"ft":  {Length, "ft", one(length, 304.8)},

	"ug":  {Other, "µg", one(mass, 1e-6)},
	"mg":  {Other, "mg", one(mass, 1e-3)},
	"g":   {Other, "g", one(mass, 1)},
	"kg":  {Other, "kg", one(mass, 1e3)},
	"uL":  {Other, "µL", one(volume, 1e-6)},
	"mL":  {Other, "mL", one(volume, 1e-3)},
	"L":   {Other, "L", one(volume, 1)},
	"gal": {Other, "gal", one(volume, 3.785411784)},

	One:    {Acidity, "", one(acidity, 1)},
	Eggs:   {Count, "eggs", one(counted, 1)},
	Larvae: {Count, "larvae", one(counted, 1)},
}

func one(d dimension, factor float64) []measure { return []measure{{d, factor, 0}} }

// Convert converts a value between two units of one kind. Temperatures are
// absolute here; a step between two is converted by [ConvertStep].
func Convert(value float64, from, to Unit) (float64, error) {
	a, b, err := shared(from, to)
	if err != nil {
		return 0, err
	}
	return tidy((value*a.factor + a.offset - b.offset) / b.factor), nil
}

// ConvertStep converts a difference: 9 degF are 5 degC.
func ConvertStep(value float64, from, to Unit) (float64, error) {
	a, b, err := shared(from, to)
	if err != nil {
		return 0, err
	}
	return tidy(value * a.factor / b.factor), nil
}

// shared finds the measures of the first dimension that both units have.
func shared(from, to Unit) (a, b measure, err error) {
	if from == to {
		return measure{factor: 1}, measure{factor: 1}, nil
	}
	for _, u := range []Unit{from, to} {
		if _, ok := units[u]; !ok {
			return a, b, fmt.Errorf("unit %q cannot be converted", u)
		}
	}
	for _, a := range units[from].measures {
		for _, b := range units[to].measures {
			if a.dim == b.dim {
				return a, b, nil
			}
		}
	}
	return a, b, fmt.Errorf("%s and %s measure different things", from, to)
}

// tidy drops the noise of binary arithmetic: 55.4 °F are 13 °C, not
// 13.000000000000002. Twelve digits are far beyond any printed value.
func tidy(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return v
	}
	scale := math.Pow(10, 11-math.Floor(math.Log10(math.Abs(v))))
	if r := math.Round(v*scale) / scale; !math.IsInf(r, 0) && !math.IsNaN(r) {
		if math.Abs(r) < 1e-12 {
			return 0
		}
		return r
	}
	return v
}

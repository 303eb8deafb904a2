package evidence

import "slices"

// Factor is a condition that papers tie to hatching, by its id in files and
// on the command line.
type Factor string

// The factors, in the order in which tables show them: what is done to the
// egg before wetting, then the water, then what sets the hatch off, then what
// came of it.
const (
	StorageLength    Factor = "storage-length"             // dry or other storage before use
	Drying           Factor = "drying"                     // a dry period, or whether one is needed
	ColdLength       Factor = "stratification-length"      // how long the eggs were held cold and moist
	ColdTemperature  Factor = "stratification-temperature" // at what temperature
	Freezing         Factor = "freezing"                   // below 0 °C, or whether that is needed
	WarmTemperature  Factor = "incubation-temperature"     // water in which the eggs were incubated or hatched
	Conductivity     Factor = "conductivity"               // electrical conductivity at 25 °C
	Salinity         Factor = "salinity"                   // salinity or total dissolved solids
	PH               Factor = "ph"                         // pH of the water
	Oxygen           Factor = "oxygen"                     // dissolved oxygen
	Light            Factor = "light"                      // photoperiod, darkness, need of light
	Trigger          Factor = "trigger"                    // what set the hatch off
	TimeToHatch      Factor = "time-to-hatch"              // from wetting or trigger to hatch
	HatchingFraction Factor = "hatching-fraction"          // eggs hatched of eggs set
)

// Measure says what a factor's value is: the canonical units it may bear and
// the categories that may stand in place of, or beside, a number.
type Measure struct {
	Factor     Factor
	Label      string   // the trade's words, for headings
	Units      []string // canonical; the first is the usual one
	Categories []string // nil: a number only
	Outcome    bool     // what came of the eggs rather than what was done to them
}

var needs = []string{"required", "helpful", "not-required", "harmful", "tolerated"}

var measures = []Measure{
	{StorageLength, "storage before use", []string{"d"}, nil, false},
	{Drying, "drying", []string{"d"}, needs, false},
	{ColdLength, "cold-moist period", []string{"d"}, nil, false},
	{ColdTemperature, "cold-moist temperature", []string{"degC"}, nil, false},
	{Freezing, "freezing", []string{"degC"}, needs, false},
	{WarmTemperature, "incubation temperature", []string{"degC"}, nil, false},
	{Conductivity, "conductivity at 25 °C", []string{"uS/cm"}, nil, false},
	{Salinity, "salinity", []string{"g/L"}, nil, false},
	{PH, "pH", []string{"1"}, nil, false},
	{Oxygen, "dissolved oxygen", []string{"mg/L", "%sat"}, []string{"normoxic", "hypoxic", "anoxic"}, false},
	{Light, "light", []string{"h"}, []string{"light-required", "continuous", "dark", "long-day", "short-day", "photoperiod-cycle", "no-effect"}, false},
	{Trigger, "trigger", nil, []string{"flooding", "low-oxygen", "carbon-dioxide", "temperature-rise", "temperature-drop",
		"light", "salinity-drop", "osmotic", "chemical", "mechanical", "other"}, false},
	{TimeToHatch, "time to hatch", []string{"d"}, nil, true},
	{HatchingFraction, "hatched fraction", []string{"%"}, nil, true},
}

// Measures returns every factor with its measure, in table order. The caller
// owns the slice.
func Measures() []Measure { return slices.Clone(measures) }

// MeasureOf returns the measure of f; ok is false for an unknown factor.
func MeasureOf(f Factor) (m Measure, ok bool) {
	i := slices.IndexFunc(measures, func(m Measure) bool { return m.Factor == f })
	if i < 0 {
		return Measure{}, false
	}
	return measures[i], true
}

// Unit returns f's usual canonical unit, "" for a factor that has none.
func (f Factor) Unit() string {
	if m, ok := MeasureOf(f); ok && len(m.Units) > 0 {
		return m.Units[0]
	}
	return ""
}

// Label returns the trade's words for f, or f itself when it is unknown.
func (f Factor) Label() string {
	if m, ok := MeasureOf(f); ok {
		return m.Label
	}
	return string(f)
}

// Order returns f's place in tables; unknown factors come last.
func (f Factor) Order() int {
	i := slices.IndexFunc(measures, func(m Measure) bool { return m.Factor == f })
	if i < 0 {
		return len(measures)
	}
	return i
}

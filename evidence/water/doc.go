// Package water works out what a keeper needs to know of the water in a dish:
// conductivity at 25 °C from a reading in the cold, the parts of a blend, how
// much salt, hardness, oxygen and carbon dioxide a figure stands for.
//
// It refuses to give one number where the literature has a range (dissolved
// solids from conductivity), a correction beyond the temperatures at which its
// error is known, and a blend that its waters cannot reach.
//
// Units are those of the trade: µS/cm at 25 °C unless said, °C, mg/L, litres,
// atmospheres, metres above the sea.
package water

import "fmt"

// Range is a value that is known between two bounds.
type Range struct{ Low, High float64 }

// atmosphere is the standard atmosphere, Pa.
const atmosphere = 101325

// kelvin is 0 °C.
const kelvin = 273.15

// liquid refuses temperatures at which there is no liquid water to measure.
func liquid(t float64) error {
	if !(t >= 0 && t <= 40) {
		return fmt.Errorf("%v °C is outside the 0 to 40 °C that the formula holds for", t)
	}
	return nil
}

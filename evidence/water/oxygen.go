package water

import (
	"fmt"
	"math"
)

// OxygenSaturation returns the oxygen, mg/L, in water at balance with moist air
// at a pressure of p atmospheres; t in °C, salinity as practical salinity (0 for
// fresh water). Benson and Krause 1980, 1984, as in Standard Methods 4500-O.
func OxygenSaturation(t, salinity, p float64) (float64, error) {
	if err := liquid(t); err != nil {
		return 0, err
	}
	if !(salinity >= 0 && salinity <= 40) {
		return 0, fmt.Errorf("a salinity of %v is outside 0 to 40", salinity)
	}
	if !(p >= 0.4 && p <= 1.1) {
		return 0, fmt.Errorf("an air pressure of %v atm is outside 0.4 to 1.1", p)
	}
	k := t + kelvin
	fresh := -139.34411 + 1.575701e5/k - 6.642308e7/(k*k) + 1.243800e10/(k*k*k) - 8.621949e11/(k*k*k*k)
	salt := salinity * (1.7674e-2 - 1.0754e1/k + 2.1407e3/(k*k))
	return math.Exp(fresh-salt) * pressureFactor(t, k, p), nil
}

// pressureFactor is the share of the saturation at 1 atm: less by the vapour of
// the water and the second virial coefficient of oxygen.
func pressureFactor(t, k, p float64) float64 {
	vapour := math.Exp(11.8571 - 3840.70/k - 216961/(k*k)) // atm
	theta := 0.000975 - 1.426e-5*t + 6.436e-8*t*t
	return p * (1 - vapour/p) * (1 - theta*p) / ((1 - vapour) * (1 - theta))
}

// PressureAt returns the mean air pressure, atm, at metres above the sea
// (International Standard Atmosphere, troposphere). Weather moves it by a few
// per cent.
func PressureAt(metres float64) (float64, error) {
	if !(metres >= -500 && metres <= 6000) {
		return 0, fmt.Errorf("%v m above the sea is outside -500 to 6000", metres)
	}
	return math.Pow(1-2.25577e-5*metres, 5.25588), nil
}

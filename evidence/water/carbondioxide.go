package water

import (
	"fmt"
	"math"
)

// molarCO2 is the molar mass of carbon dioxide, g/mol.
const molarCO2 = 44.0095

// CO2Solubility returns Henry's constant of carbon dioxide in fresh water,
// mol/kg at 1 atm of the gas: Plummer and Busenberg 1982, coefficients from
// memory, checked against the compilation of Sander 2015.
func CO2Solubility(t float64) (float64, error) {
	if err := liquid(t); err != nil {
		return 0, err
	}
	k := t + kelvin
	return math.Pow(10, 108.3865+0.01985076*k-6919.53/k-40.45154*math.Log10(k)+669365/(k*k)), nil
}

// CO2SolubilitySea returns the same in water of the given practical salinity:
// Weiss 1974, coefficients from memory; within 0.5 % of [CO2Solubility] in fresh
// water.
func CO2SolubilitySea(t, salinity float64) (float64, error) {
	if err := liquid(t); err != nil {
		return 0, err
	}
	k := (t + kelvin) / 100
	return math.Exp(-58.0931 + 90.5069/k + 22.2940*math.Log(k) + salinity*(0.027766-0.025888*k+0.0050578*k*k)), nil
}

// Dose is an estimate of what a carbon dioxide trigger takes.
type Dose struct {
	Least    float64 // grams, if all of it dissolves and none was there
	Likely   Range   // grams to have at hand: bubbles and open dishes lose most of it
	GasLitre float64 // litres of gas that the least is at 1 atm and t
	Most     float64 // mg/L that the water can hold under pure gas at 1 atm
	Pressure float64 // atm of the gas with which the target is at balance
}

// loss is how much of a gas led into an open dish dissolves (rule of thumb, no
// source): a tenth to a half.
var loss = Range{0.1, 0.5}

// gasConstant is in L·atm/(mol·K).
const gasConstant = 0.082057

// CO2Dose estimates the carbon dioxide that brings litres of fresh water of t °C
// to a target of mg/L dissolved. What the buffering of the water makes of it is
// left out: watch the animals and the pH, not the dose.
func CO2Dose(target, litres, t float64) (Dose, error) {
	h, err := CO2Solubility(t)
	if err != nil {
		return Dose{}, err
	}
	if !(target > 0) || !(litres > 0) {
		return Dose{}, fmt.Errorf("a dose needs a target above 0 mg/L and a volume above 0 L")
	}
	most := 1000 * h * molarCO2
	if target > most {
		return Dose{}, fmt.Errorf("water of %v °C holds at most %.0f mg/L of carbon dioxide at 1 atm, not %v", t, most, target)
	}
	least := target * litres / 1000
	return Dose{
		Least: least, Likely: Range{least / loss.High, least / loss.Low},
		GasLitre: least / molarCO2 * gasConstant * (t + kelvin),
		Most:     most, Pressure: target / most,
	}, nil
}

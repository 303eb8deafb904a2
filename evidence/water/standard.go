package water

import (
	"fmt"
	"math"
	"strings"
)

// Standard is a solution of known conductivity by which a meter is checked.
type Standard struct {
	Name   string  // as on the bottle, µS/cm at 25 °C
	What   string  // what is in it, and where its figures come from
	points []point // by rising temperature
}

// point is a conductivity, µS/cm, at t °C.
type point struct{ t, k float64 }

// Standards returns the solutions known, by rising conductivity. A solution of
// 0.01 mol in a kilogram of water is not the one of 0.01 mol in a litre: 1408
// and 1413 µS/cm.
func Standards() []Standard {
	return []Standard{
		{"84", "bottle (a meter manual's table)", []point{{15, 67.61}, {20, 75.80}, {25, 84.00}}},
		{"147", "potassium chloride, 0.001 mol/L (Standard Methods 2510, from memory)", []point{{25, 146.9}}},
		{"500", "bottle (a meter manual's table)", []point{{15, 402.9}, {20, 451.5}, {25, 500.0}}},
		{"1408", "potassium chloride, 0.01 mol/kg (CRC Handbook, after Wu, Koch and Pratt 1991)", standard},
		{"1413", "bottle, potassium chloride of 0.01 mol/L (a meter manual's table)", []point{{15, 1147}, {20, 1278}, {25, 1413}}},
		{"12825", "potassium chloride, 0.1 mol/kg (CRC Handbook, after Wu, Koch and Pratt 1991)", []point{{25, 12824.6}}},
		{"12880", "bottle, potassium chloride of 0.1 mol/L (a meter manual's table)", []point{{15, 10480}, {20, 11670}, {25, 12880}}},
	}
}

// StandardNamed returns the standard with the given name.
func StandardNamed(name string) (Standard, error) {
	var names []string
	for _, s := range Standards() {
		if name == s.Name {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return Standard{}, fmt.Errorf("%q is no standard known here: choose among %s µS/cm", name, strings.Join(names, ", "))
}

// At returns the conductivity of the standard at t °C, between tabled
// temperatures by a straight line.
func (s Standard) At(t float64) (float64, error) {
	first, last := s.points[0], s.points[len(s.points)-1]
	for i, p := range s.points {
		if p.t == t {
			return p.k, nil
		}
		if i > 0 && t > s.points[i-1].t && t < p.t {
			before := s.points[i-1]
			return before.k + (t-before.t)/(p.t-before.t)*(p.k-before.k), nil
		}
	}
	if first.t == last.t {
		return math.NaN(), fmt.Errorf("the standard %s is tabled at %v °C only, not at %v", s.Name, first.t, t)
	}
	return math.NaN(), fmt.Errorf("the standard %s is tabled from %v to %v °C, not at %v", s.Name, first.t, last.t, t)
}

// MeterCheck is what a reading of a standard says of a meter.
type MeterCheck struct {
	Should float64 // µS/cm
	Error  float64 // of the reading, as a share; below 0 it reads low
	Factor float64 // by which to multiply the meter's readings
}

// CheckMeter compares a reading in a standard of t °C. A meter that corrects to
// 25 °C by itself should show the standard's value there.
func CheckMeter(s Standard, reads, t float64, corrects bool) (MeterCheck, error) {
	if !(reads > 0) || math.IsInf(reads, 1) {
		return MeterCheck{}, fmt.Errorf("a reading of %v µS/cm tells nothing of a meter", reads)
	}
	if corrects {
		t = 25
	}
	should, err := s.At(t)
	if err != nil {
		return MeterCheck{}, err
	}
	return MeterCheck{Should: should, Error: reads/should - 1, Factor: should / reads}, nil
}

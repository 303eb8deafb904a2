package water

import (
	"fmt"
	"slices"
	"strings"
)

// hardness holds how many mg/L as CaCO3 one of each unit is. A German degree is
// 10 mg/L of CaO, a French one 10 mg/L of CaCO3, an English one a grain per
// imperial gallon, gpg a grain (64.79891 mg) per US gallon (3.785411784 L), all
// by definition; molar masses 56.0774 (CaO) and 100.0869 (CaCO3) g/mol.
var hardness = []struct {
	unit string
	mgL  float64
}{
	{"mg/L", 1},
	{"dH", 10 * 100.0869 / 56.0774},
	{"fH", 10},
	{"eH", 64.79891 / 4.54609},
	{"gpg", 64.79891 / 3.785411784},
	{"mmol/L", 100.0869},
}

// HardnessUnits returns the units of hardness: mg/L as CaCO3, German, French and
// English degrees, grains per US gallon, mmol/L of calcium and magnesium.
func HardnessUnits() []string {
	var out []string
	for _, h := range hardness {
		out = append(out, h.unit)
	}
	return out
}

// Hardness converts between units of hardness.
func Hardness(value float64, from, to string) (float64, error) {
	if !(value >= 0) {
		return 0, fmt.Errorf("a hardness of %v cannot be", value)
	}
	a, err := hardnessOf(from)
	if err != nil {
		return 0, err
	}
	b, err := hardnessOf(to)
	return value * a / b, err
}

func hardnessOf(unit string) (float64, error) {
	i := slices.IndexFunc(hardness, func(h struct {
		unit string
		mgL  float64
	}) bool {
		return strings.EqualFold(h.unit, strings.TrimPrefix(unit, "°"))
	})
	if i < 0 {
		return 1, fmt.Errorf("%q is no unit of hardness: choose %s", unit, strings.Join(HardnessUnits(), ", "))
	}
	return hardness[i].mgL, nil
}

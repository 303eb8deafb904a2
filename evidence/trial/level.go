package trial

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"hatchlore/evidence"
)

// Defaults for levels that a paper gives as a word. Common practice, no source:
// two weeks of drying, a household freezer, half a day of light.
const (
	defaultDryDays    = 14
	defaultFreezeTemp = -18
	defaultLitDay     = "12:12"
)

// UsualColdDays is the cold-moist period that eggs get where its temperature
// alone is spoken of (common practice, no source).
const UsualColdDays = 60

// parseSetting reads one level of the factor that m measures.
func parseSetting(m evidence.Measure, word string) (Setting, error) {
	if word == "" {
		return Setting{}, fmt.Errorf("an empty word is no level of %s", m.Factor)
	}
	if v, err := strconv.ParseFloat(word, 64); err == nil {
		return numberSetting(m, v)
	}
	return categorySetting(m, word)
}

func numberSetting(m evidence.Measure, v float64) (Setting, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) || len(m.Units) == 0 {
		return Setting{}, fmt.Errorf("%v is no level of %s", v, m.Factor)
	}
	low, high := bounds(m.Factor)
	if v < low || v > high {
		return Setting{}, fmt.Errorf("%s %s is outside what can be set (%v to %s)",
			m.Factor, Num(v).In(m.Units[0]), low, Num(high).In(m.Units[0]))
	}
	if m.Factor == evidence.Light && (v == 0 || v == 24) {
		return Cat(map[float64]string{0: "dark", 24: "continuous"}[v]), nil
	}
	return Num(v), nil
}

// bounds are what a keeper could set at all; they catch a slip of the pen or of
// a unit, no more (from experience of plausible values, no source).
func bounds(f evidence.Factor) (low, high float64) {
	switch f {
	case evidence.StorageLength, evidence.Drying, evidence.ColdLength:
		return 0, 3650
	case evidence.Freezing:
		return -200, 0
	case evidence.WarmTemperature:
		return 0, 50
	case evidence.ColdTemperature:
		return 0, 20
	case evidence.Conductivity:
		return 0, 200000
	case evidence.Salinity:
		return 0, 350
	case evidence.PH:
		return 2, 12
	case evidence.Oxygen:
		return 0, 60
	case evidence.Light:
		return 0, 24
	}
	return math.Inf(-1), math.Inf(1)
}

// categorySetting turns a word into what is done to a dish. The words of need
// that papers use are no treatment by themselves: that drying is required is
// tested by drying some eggs and not others.
func categorySetting(m evidence.Measure, word string) (Setting, error) {
	none, has := Untreated(m.Factor)
	if has && (word == "none" || word == none.Category) {
		return none, nil
	}
	switch m.Factor {
	case evidence.Drying, evidence.Freezing:
		return needSetting(m.Factor, word)
	case evidence.Light:
		return lightSetting(word)
	}
	if !slices.Contains(m.Categories, word) {
		return Setting{}, fmt.Errorf("%q is no level of %s", word, m.Factor)
	}
	return Cat(word), nil
}

func needSetting(f evidence.Factor, word string) (Setting, error) {
	switch word {
	case "required", "helpful", "harmful", "tolerated":
		if f == evidence.Drying {
			return Num(defaultDryDays), nil
		}
		return Num(defaultFreezeTemp), nil
	case "not-required":
		none, _ := Untreated(f)
		return none, nil
	}
	return Setting{}, fmt.Errorf("%q is no level of %s", word, f)
}

func lightSetting(word string) (Setting, error) {
	switch word {
	case "light-required", "photoperiod-cycle":
		return Cat(defaultLitDay), nil
	case "long-day":
		return Cat("16:8"), nil
	case "short-day":
		return Cat("8:16"), nil
	case "dark", "continuous":
		return Cat(word), nil
	case "no-effect":
		return Setting{}, fmt.Errorf("that light has no effect gives no level to set: say which light, as in dark,12:12")
	}
	var light, dark float64
	if n, err := fmt.Sscanf(word, "%g:%g", &light, &dark); err != nil || n != 2 || light < 0 || dark < 0 || light+dark <= 0 {
		return Setting{}, fmt.Errorf("%q is no level of light: write dark, continuous, or hours of light and dark as 12:12", word)
	}
	return Cat(word), nil
}

// Counterpart returns the setting to compare with where a factor has set alone:
// the untreated egg, a usual treatment against untreated eggs, darkness against
// light. ok is false for a factor that has none, such as temperature.
func Counterpart(f evidence.Factor, set Setting) (other Setting, ok bool) {
	none, handled := Untreated(f)
	switch {
	case f == evidence.Light && set == Cat("dark"):
		return Cat(defaultLitDay), true
	case f == evidence.Light:
		return Cat("dark"), true
	case !handled || set != none:
		return none, handled
	case f == evidence.Drying:
		return Num(defaultDryDays), true
	case f == evidence.Freezing:
		return Num(defaultFreezeTemp), true
	}
	return Setting{}, false
}

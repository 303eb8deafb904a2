package trial

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"hatchlore/evidence"
)

// Setting is the value that a factor has in a dish: a category, or a number in
// the factor's canonical unit. In JSON it is a string or a number.
type Setting struct {
	Number   float64
	Category string // "" for a number
}

// Num returns the setting of a number.
func Num(v float64) Setting { return Setting{Number: v} }

// Cat returns the setting of a category.
func Cat(c string) Setting { return Setting{Category: c} }

func (s Setting) String() string {
	if s.Category != "" {
		return s.Category
	}
	return strconv.FormatFloat(s.Number, 'f', -1, 64)
}

// In returns the setting with its unit as the trade writes it: "14 d", "5 °C".
// Numbers are rounded to three places, which is finer than anybody can set.
func (s Setting) In(unit string) string {
	if s.Category != "" {
		return s.Category
	}
	rounded := Num(math.Round(1000*s.Number) / 1000).String()
	if sign := unitSign(unit); sign != "" {
		return rounded + " " + sign
	}
	return rounded
}

// MarshalJSON writes a number or a string.
func (s Setting) MarshalJSON() ([]byte, error) {
	if s.Category != "" {
		return json.Marshal(s.Category)
	}
	return json.Marshal(s.Number)
}

// UnmarshalJSON reads a number or a string.
func (s *Setting) UnmarshalJSON(b []byte) error {
	if len(b) > 0 && b[0] == '"' {
		*s = Setting{}
		return json.Unmarshal(b, &s.Category)
	}
	*s = Setting{}
	if err := json.Unmarshal(b, &s.Number); err != nil {
		return fmt.Errorf("a level is a number or a word: %w", err)
	}
	return nil
}

func unitSign(unit string) string {
	switch unit {
	case "degC":
		return "°C"
	case "uS/cm":
		return "µS/cm"
	case "%sat":
		return "% saturation"
	case "1":
		return ""
	}
	return unit
}

// Untreated returns the setting of a factor in eggs that nobody treated; ok is
// false for a factor such as temperature, which every egg has.
func Untreated(f evidence.Factor) (s Setting, ok bool) {
	switch f {
	case evidence.StorageLength, evidence.Drying, evidence.ColdLength:
		return Num(0), true
	case evidence.Freezing:
		return Cat("none"), true
	case evidence.Trigger:
		return Cat("flooding"), true
	}
	return Setting{}, false
}

// Bare returns the setting to which a treatment is compared: the untreated egg,
// or darkness where light is the question.
func Bare(f evidence.Factor) (s Setting, ok bool) {
	if f == evidence.Light {
		return Cat("dark"), true
	}
	return Untreated(f)
}

// CompareSettings orders levels for tables: the bare one first, then numbers
// upwards, then categories as they came (equal here; the sort is stable).
func CompareSettings(f evidence.Factor) func(a, b Setting) int {
	none, has := Bare(f)
	return func(a, b Setting) int {
		if has && (a == none) != (b == none) {
			if a == none {
				return -1
			}
			return 1
		}
		if (a.Category == "") != (b.Category == "") {
			if a.Category == "" {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.Number, b.Number)
	}
}

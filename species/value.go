package species

import (
	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
)

// Value prints what a claim says of its factor, in canonical units: "30 d",
// "≥ 90 d", "required, 28 d", "low-oxygen".
func Value(c evidence.Claim) string { return valueOf(c.Low, c.High, c.Unit, c.Category) }

func valueOf(low, high *float64, unit, category string) string {
	number := quantity.FormatRange(low, high, quantity.Unit(unit))
	switch {
	case number == "":
		return category
	case category == "":
		return number
	}
	return category + ", " + number
}

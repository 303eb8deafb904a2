package query

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
)

// ErrFactorless says that a value was given to a claim on no factor.
var ErrFactorless = errors.New("a value needs a factor to be a value of")

// SetValue reads a value as it is printed, "10 °C", "at least 30 days", into a
// claim on a factor; an empty one takes the claim's number away.
func SetValue(c *evidence.Claim, printed string) error {
	if strings.TrimSpace(printed) == "" {
		c.Low, c.High, c.Unit, c.Printed = nil, nil, "", ""
		return nil
	}
	m, ok := evidence.MeasureOf(c.Factor)
	if !ok {
		return ErrFactorless
	}
	text := printed
	if c.Factor == evidence.PH && !strings.Contains(strings.ToLower(text), "ph") {
		text = "pH " + text
	}
	qs := quantity.Find(text)
	if len(qs) != 1 || len(qs[0].Items) != 1 || qs[0].Difference {
		return fmt.Errorf("a value is one number or range with its unit, as \"10 °C\", not %q", printed)
	}
	items, unit, err := qs[0].Canonical()
	if err != nil || !slices.Contains(m.Units, string(unit)) {
		return fmt.Errorf("%s is given in a unit of %s, not as %q", m.Label, strings.Join(m.Units, " or "), printed)
	}
	c.Low, c.High, c.Unit, c.Printed = items[0].Low, items[0].High, string(unit), strings.TrimSpace(printed)
	return CheckNumber(*c)
}

// CheckNumber refuses a number that no paper can mean: a slip of the pen or of
// the unit.
func CheckNumber(c evidence.Claim) error {
	low, high := possible(c.Unit)
	for _, v := range []*float64{c.Low, c.High} {
		if v != nil && (*v < low || *v > high) {
			unit := quantity.Unit(c.Unit)
			return fmt.Errorf("%s cannot be %s: it lies in %s; is the unit right?",
				c.Factor.Label(), quantity.FormatRange(v, v, unit), quantity.FormatRange(&low, &high, unit))
		}
	}
	return nil
}

// possible is what a number can be in a unit: for temperatures from absolute
// zero (SI Brochure, 9th edition) to what no dry egg has been held at, for time
// three thousand years, longer than the oldest egg that was hatched (the bounds
// above from general knowledge, no source).
func possible(unit string) (low, high float64) {
	switch quantity.Unit(unit) {
	case quantity.DegC:
		return -273.15, 200
	case quantity.Day:
		return 0, 1e6
	case quantity.Hour:
		return 0, 24
	case quantity.Percent:
		return 0, 100
	case quantity.One:
		return 0, 14
	case quantity.GramL, quantity.MgL:
		return 0, 1000
	}
	return 0, 1e6
}

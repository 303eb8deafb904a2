package trial

import (
	"fmt"
	"strings"

	"hatchlore/evidence"
)

// Fixed is a condition that is the same in all dishes.
type Fixed struct {
	ID      evidence.Factor `json:"factor"`
	Unit    string          `json:"unit"`
	Setting Setting         `json:"setting"`
	Why     string          `json:"why"` // [AsAsked], or the default's reason
}

// AsAsked is why a condition is fixed that the keeper holds in all dishes.
const AsAsked = "as asked"

// ParseHeld reads a setting that all dishes share as the command line has it:
// stratification-length=60. It is checked as a level of [ParseFactor] is, but no
// untreated eggs are set beside it.
func ParseHeld(s string) (Fixed, error) {
	if !strings.Contains(s, "=") {
		return Fixed{}, fmt.Errorf("%q has no setting: write it as stratification-length=60", s)
	}
	f, err := parseLevels(s)
	if err != nil {
		return Fixed{}, err
	}
	if n := len(f.Levels); n > 1 {
		return Fixed{}, fmt.Errorf("all dishes share one setting of %s, not %d: make it a factor to compare them", f.ID, n)
	}
	return Fixed{ID: f.ID, Unit: f.Unit, Setting: f.Levels[0], Why: AsAsked}, nil
}

// Treats reports whether the condition is something done to the eggs, which
// those called untreated in this trial then get as well.
func (x Fixed) Treats() bool {
	none, can := Untreated(x.ID)
	return can && x.Setting != none
}

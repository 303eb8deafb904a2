package conflict

import (
	"hatchlore/evidence"
	"hatchlore/species/value"
)

// Stance is what a claim says of the need for a treatment.
type Stance string

const (
	Needed    Stance = "required"
	Helps     Stance = "helpful"
	NotNeeded Stance = "not-required"
	Harms     Stance = "harmful"
	Survived  Stance = "tolerated"
	Worked    Stance = "" // eggs hatched after it, no more is said
)

// StanceOf returns the stance of a claim; ok is false for one that takes none.
func StanceOf(c evidence.Claim) (s Stance, ok bool) {
	switch c.Factor {
	case evidence.Drying, evidence.Freezing:
		switch {
		case c.Category != "":
			return Stance(c.Category), true
		case c.Bearing == evidence.Prevents:
			return Harms, !value.HasNumber(c) // a harmful length is a matter of numbers
		case c.Bearing == evidence.Favours:
			return Worked, true
		}
	case evidence.Light:
		switch {
		case c.Bearing == evidence.Favours && c.Category == "light-required":
			return Needed, true
		case c.Category == "no-effect", c.Bearing == evidence.Indifferent && c.Category != "":
			return NotNeeded, true
		}
	case evidence.Trigger:
		switch c.Bearing {
		case evidence.Favours:
			return Needed, true
		case evidence.Indifferent:
			return NotNeeded, true
		}
	}
	return "", false
}

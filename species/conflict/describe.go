package conflict

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
	"hatchlore/species/taxonomy"
	"hatchlore/species/value"
)

// Describe fills in what follows from the sides: the id, the stage and the
// question.
func (c *Conflict) Describe() {
	c.ID = c.id()
	c.Stage = commonStage(c.Sides)
	c.Question = question(*c)
}

func (c Conflict) id() string {
	id := strings.ReplaceAll(taxonomy.Fold(c.Taxon), " ", "-") + ":" + string(c.Factor) + ":" + string(c.Kind)
	if c.Which != "" {
		id += ":" + c.Which
	}
	return id
}

func commonStage(sides []Side) evidence.Stage {
	first := true
	var stage evidence.Stage
	for _, s := range sides {
		for _, c := range s.Told {
			if first {
				stage, first = c.Stage, false
			}
			if c.Stage != stage {
				return evidence.StageUnsaid
			}
		}
	}
	return stage
}

// question puts a conflict as what the keeper wants to know.
func question(c Conflict) string {
	switch {
	case c.Kind == Silent:
		return "no first-hand claim on " + c.Factor.Label()
	case c.Kind == Need && c.Factor == evidence.Drying:
		return "must the eggs dry: " + c.either(Side.need) + "?"
	case c.Kind == Need && c.Factor == evidence.Freezing:
		return "must the eggs freeze: " + c.either(Side.need) + "?"
	case c.Kind == Need && c.Factor == evidence.Light:
		return "do the eggs need light: " + c.either(Side.need) + "?"
	case c.Kind == Need:
		return "does " + c.Sides[0].position() + " set off the hatch, or not?"
	case c.Kind == Opposed && c.Factor == evidence.Trigger:
		return "does " + cmp.Or(triggers[c.Which], c.Which) + " set off the hatch, or prevent it?"
	case c.Kind == Opposed && circumstances[c.Which] != "":
		return c.Factor.Label() + ": do eggs hatch " + circumstances[c.Which] + "?"
	case c.After != "":
		return c.Factor.Label() + " after " + cmp.Or(triggers[c.After], c.After) + ": " + c.either(Side.position) + "?"
	case c.At != nil:
		return c.Factor.Label() + ": do eggs hatch" + c.when() + "?"
	}
	return c.Factor.Label() + ": " + c.either(Side.position) + "?"
}

// circumstances says a word for light or oxygen as where eggs hatch.
var circumstances = map[string]string{
	"dark": "in the dark", "continuous": "under continuous light", "long-day": "in long days", "short-day": "in short days",
	"normoxic": "in normoxic water", "hypoxic": "in hypoxic water", "anoxic": "in anoxic water",
}

// when says at which value, or after how long, some saw eggs hatch and others none.
func (c Conflict) when() string {
	low, high := c.Disputed().Ends()
	unit := c.Sides[0].Unit
	if spared, ok := withoutIt[c.Factor]; ok && high != nil && *high == 0 {
		return spared
	}
	how := " at "
	switch {
	case unit == "d":
		how = " after "
	case c.Factor == evidence.ColdTemperature:
		how = " after cold at "
	}
	return how + value.Print(low, high, unit, "")
}

// withoutIt says of eggs that they were spared a treatment: nobody dries eggs for
// 0 days.
var withoutIt = map[evidence.Factor]string{
	evidence.StorageLength: " that were never stored",
	evidence.Drying:        " that were never dry",
	evidence.ColdLength:    " without one",
}

// triggers says a word for a trigger in a sentence; one that is missing says itself.
var triggers = map[string]string{
	"low-oxygen": "low oxygen", "carbon-dioxide": "carbon dioxide", "temperature-rise": "a rise in temperature", "temperature-drop": "a drop in temperature",
	"salinity-drop": "a drop in salinity", "osmotic": "an osmotic stimulus", "chemical": "a chemical stimulus", "mechanical": "a mechanical stimulus", "other": "another stimulus",
}

// either lists the sides as tell tells them: "a, b or c".
func (c Conflict) either(tell func(Side) string) string {
	var out []string
	for _, s := range c.Sides {
		out = append(out, tell(s))
	}
	last := len(out) - 1
	if last < 1 {
		return strings.Join(out, "")
	}
	return strings.Join(out[:last], ", ") + " or " + out[last]
}

// need is what a side says of the need for a treatment: "required (28 d)".
func (s Side) need() string {
	word := strings.ReplaceAll(s.Category, "-", " ")
	number := valueOf(s.weighty(), s.Unit, "")
	switch {
	case word == "":
		return s.position()
	case number == "":
		return word
	}
	return word + " (" + number + ")"
}

// position is the value with what it did, where that is not plain from it.
func (s Side) position() string {
	switch {
	case s.Stands():
	case triggers[s.Value] != "" && s.Bearing != evidence.Prevents:
		return triggers[s.Value]
	case s.Bearing == evidence.Prevents:
		return s.Value + " prevents"
	case s.Bearing == evidence.Indifferent && s.Value == string(s.Bearing):
		return "without effect"
	case s.Bearing == evidence.Indifferent:
		return s.Value + " without effect"
	}
	return s.Value
}

// Stands reports whether a side's word says what the treatment does: "harmful".
func (s Side) Stands() bool {
	return slices.Contains([]Stance{Needed, Helps, NotNeeded, Harms, Survived}, Stance(s.Category))
}

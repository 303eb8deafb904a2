package conflict

import (
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
	var positions []string
	for _, s := range c.Sides {
		positions = append(positions, s.position())
	}
	stands := strings.Join(positions, " or ")
	switch {
	case c.Kind == Silent:
		return "no first-hand claim on " + c.Factor.Label()
	case c.Kind == Need && c.Factor == evidence.Drying:
		return "must the eggs dry: " + stands + "?"
	case c.Kind == Need && c.Factor == evidence.Freezing:
		return "must the eggs freeze: " + stands + "?"
	case c.Kind == Need && c.Factor == evidence.Light:
		return "do the eggs need light: " + stands + "?"
	case c.Kind == Need:
		return "does " + c.Sides[0].Value + " set off the hatch, or not?"
	case c.After != "":
		return c.Factor.Label() + " after " + c.After + ": " + stands + "?"
	case c.At != nil:
		low, high := c.At.Ends()
		when := " at "
		if c.Sides[0].Unit == "d" {
			when = " after "
		}
		return c.Factor.Label() + ": do eggs hatch" + when + value.Print(low, high, c.Sides[0].Unit, "") + "?"
	}
	return c.Factor.Label() + ": " + stands + "?"
}

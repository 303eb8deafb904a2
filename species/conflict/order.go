package conflict

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
)

// Rule says in what order conflicts come, for the reader of a listing.
const Rule = "what blocks a first hatch comes first: whether something is needed, then where one paper hatched and another did not, " +
	"then values that do not meet; of each, first those in which two sides have findings of their own; within these drying, cold and freezing, then trigger, temperature, light and oxygen, then the water, " +
	"then storage, and last what came of it; then the number of papers that stand on the sides by their own findings"

// kindOrder and factorOrder are Rule in code. The order of the factors is our
// own judgement, no source: an egg still in diapause hatches in no water.
var (
	kindOrder   = []Kind{Need, Opposed, Apart, Silent}
	factorOrder = []evidence.Factor{evidence.Drying, evidence.ColdLength, evidence.ColdTemperature, evidence.Freezing, evidence.Trigger,
		evidence.WarmTemperature, evidence.Light, evidence.Oxygen, evidence.Conductivity, evidence.Salinity, evidence.PH,
		evidence.StorageLength, evidence.HatchingFraction, evidence.TimeToHatch}
)

// Factors returns the factors in the order of [Rule].
func Factors() []evidence.Factor { return slices.Clone(factorOrder) }

// Compare orders conflicts by [Rule].
func Compare(a, b Conflict) int {
	return cmp.Or(slices.Index(kindOrder, a.Kind)-slices.Index(kindOrder, b.Kind), b.backed()-a.backed(),
		slices.Index(factorOrder, a.Factor)-slices.Index(factorOrder, b.Factor), b.witnesses()-a.witnesses(), strings.Compare(a.ID, b.ID))
}

func (c Conflict) witnesses() int {
	n := 0
	for _, s := range c.Sides {
		n += s.Firsthand
	}
	return n
}

// backed is 1 when two sides have findings of their own.
func (c Conflict) backed() int {
	n := 0
	for _, s := range c.Sides {
		if s.Found() {
			n++
		}
	}
	return min(1, n/2)
}

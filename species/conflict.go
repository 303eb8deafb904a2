package species

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
)

// Kind says how the sides of a conflict stand to each other.
type Kind string

const (
	Need    Kind = "need"    // required against not needed or harmful
	Opposed Kind = "opposed" // one favours where another prevents
	Apart   Kind = "apart"   // both favour, and their ranges do not meet
	Silent  Kind = "silent"  // nobody tells at first hand: an open question
)

// Conflict is a disagreement between papers on one factor of one species, or
// an open question.
type Conflict struct {
	ID       string          `json:"id"` // species, factor and kind; the same while these are
	Taxon    string          `json:"taxon"`
	Factor   evidence.Factor `json:"factor"`
	Stage    evidence.Stage  `json:"stage"` // that all claims speak of; "" when they differ or do not say
	Kind     Kind            `json:"kind"`
	Question string          `json:"question"` // in the trade's words
	Sides    []Side          `json:"sides"`
	// Of a disputed value: where else those who stand here, on either side,
	// saw eggs hatch.
	Elsewhere []Side   `json:"elsewhere"`
	Reasons   []Reason `json:"reasons"`
	Levels    []Level  `json:"levels"` // what a trial that is to settle it would set

	which string // tells conflicts of one factor and kind apart
	at    *span  // of opposed numbers: the disputed value
	after string // of counts: the trigger that they follow
}

// Rule says in what order [Conflicts] come, for the reader of a listing.
const Rule = "what blocks a first hatch comes first: whether something is needed, then where one paper hatched and another did not, " +
	"then ranges that do not meet; of each, first those in which two sides have findings of their own; within these drying, cold and freezing, then trigger, temperature, light and oxygen, then the water, " +
	"then storage, and last what came of it; then the number of papers that stand on the sides by their own findings"

// kindOrder and factorOrder are Rule in code. The order of the factors is our
// own judgement, no source: an egg still in diapause hatches in no water.
var (
	kindOrder   = []Kind{Need, Opposed, Apart, Silent}
	factorOrder = []evidence.Factor{evidence.Drying, evidence.ColdLength, evidence.ColdTemperature, evidence.Freezing, evidence.Trigger,
		evidence.WarmTemperature, evidence.Light, evidence.Oxygen, evidence.Conductivity, evidence.Salinity, evidence.PH,
		evidence.StorageLength, evidence.HatchingFraction, evidence.TimeToHatch}
)

// Conflicts returns the disagreements among the claims, species by species,
// in the order of [Rule]. Claims that are rejected or bear no taxon are left
// out; a claim on a genus is set against others on the genus only.
func Conflicts(claims []evidence.Claim, library Library, names *Names) []Conflict {
	lib := shelve(library)
	var out []Conflict
	gs := groups(claims, names)
	for _, g := range gs {
		if !slices.ContainsFunc(g.claims, func(c evidence.Claim) bool { return !c.Secondhand }) {
			continue // an open question, see Questions
		}
		vs := voices(g.claims, lib)
		out = append(out, needs(lib, g, vs)...)
		out = append(out, categories(lib, g, vs)...)
		out = append(out, numbers(lib, g, vs)...)
		if g.factor == evidence.HatchingFraction {
			out = append(out, counts(lib, g, vs, triggersOf(gs, g.taxon))...)
		}
	}
	finish(out, gs, lib)
	slices.SortStableFunc(out, func(a, b Conflict) int {
		return cmp.Or(slices.Index(kindOrder, a.Kind)-slices.Index(kindOrder, b.Kind), b.backed()-a.backed(),
			slices.Index(factorOrder, a.Factor)-slices.Index(factorOrder, b.Factor), b.witnesses()-a.witnesses(), strings.Compare(a.ID, b.ID))
	})
	return out
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
		if s.Firsthand > 0 {
			n++
		}
	}
	return min(1, n/2)
}

// group is the claims on one factor of one species.
type group struct {
	taxon  string
	factor evidence.Factor
	claims []evidence.Claim
}

func groups(claims []evidence.Claim, names *Names) []group {
	at := map[[2]string]int{}
	current := map[string]string{}
	var out []group
	for _, c := range ordered(claims) {
		taxon, known := current[c.Taxon]
		if !known {
			taxon = names.Current(c.Taxon)
			current[c.Taxon] = taxon
		}
		if taxon == "" {
			continue
		}
		key := [2]string{taxon, string(c.Factor)}
		i, seen := at[key]
		if !seen {
			i = len(out)
			at[key] = i
			out = append(out, group{taxon: taxon, factor: c.Factor})
		}
		out[i].claims = append(out[i].claims, c)
	}
	slices.SortStableFunc(out, func(a, b group) int {
		return cmp.Or(strings.Compare(a.taxon, b.taxon), a.factor.Order()-b.factor.Order())
	})
	return out
}

// finish gives conflicts their ids, stages, questions, reasons and levels.
func finish(cs []Conflict, gs []group, lib *shelf) {
	all := map[string][]evidence.Claim{}
	for _, g := range gs {
		all[g.taxon] = append(all[g.taxon], g.claims...)
	}
	for i := range cs {
		c := &cs[i]
		c.ID = c.id()
		c.Stage = commonStage(c.Sides)
		c.Question = question(*c)
		if c.Elsewhere == nil {
			c.Elsewhere = []Side{}
		}
		c.Reasons = reasons(*c, all[c.Taxon], lib)
		c.Levels = levels(*c)
	}
}

func (c Conflict) id() string {
	id := strings.ReplaceAll(fold(c.Taxon), " ", "-") + ":" + string(c.Factor) + ":" + string(c.Kind)
	if c.which != "" {
		id += ":" + c.which
	}
	return id
}

func commonStage(sides []Side) evidence.Stage {
	first := true
	var stage evidence.Stage
	for _, s := range sides {
		for _, c := range s.claims {
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
	case c.after != "":
		return c.Factor.Label() + " after " + c.after + ": " + stands + "?"
	case c.at != nil:
		low, high := c.at.ends()
		when := " at "
		if c.Sides[0].Unit == "d" {
			when = " after "
		}
		return c.Factor.Label() + ": do eggs hatch" + when + valueOf(low, high, c.Sides[0].Unit, "") + "?"
	}
	return c.Factor.Label() + ": " + stands + "?"
}

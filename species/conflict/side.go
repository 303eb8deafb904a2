package conflict

import (
	"cmp"
	"slices"

	"hatchlore/evidence"
	"hatchlore/species/value"
	"hatchlore/species/witness"
)

// Side is one position in a conflict.
type Side struct {
	Bearing   evidence.Bearing `json:"bearing"`
	Low       *float64         `json:"low"`
	High      *float64         `json:"high"`
	Unit      string           `json:"unit"`
	Category  string           `json:"category"`
	Claims    []string         `json:"claims"`    // ids
	Papers    []string         `json:"papers"`    // keys of the papers in which the claims stand
	Firsthand int              `json:"firsthand"` // papers that stand here, and on no other side, by their own findings
	Torn      []string         `json:"torn"`      // papers whose own findings stand on another side too
	Value     string           `json:"value"`     // as shown
	Says      []Saying         `json:"says"`      // the claims with their sources

	Voices []witness.Voice  `json:"-"` // whose claims these are, with all they say on the factor
	Told   []evidence.Claim `json:"-"` // the same as Claims
}

// Saying is one claim of a side with where to read it.
type Saying struct {
	Claim      string         `json:"claim"`
	Citation   string         `json:"citation"`
	Paper      string         `json:"paper"`
	Page       int            `json:"page"`
	Value      string         `json:"value"`
	Printed    string         `json:"printed"`
	Stage      evidence.Stage `json:"stage"`
	Quote      string         `json:"quote"`
	Words      string         `json:"words"` // as a reader would quote it, see fulltext.Words; "" is the quote
	Table      bool           `json:"table"` // Words are a table's
	Secondhand bool           `json:"secondhand"`
	Cited      string         `json:"cited"`
	Echo       string         `json:"echo"` // key of the cited paper, when it is in the library
}

// NewSide makes a side of the claims that take picks from the voices. Voices that
// stand on the other side as well (torn) are shown but are no witnesses.
func NewSide(lib *witness.Shelf, vs []witness.Voice, torn map[string]bool, take func(evidence.Claim) bool) Side {
	s := Side{Claims: []string{}, Papers: []string{}, Torn: []string{}, Says: []Saying{}}
	witnesses := map[string]bool{}
	for _, v := range vs {
		before := len(s.Told)
		for _, c := range v.Claims {
			if !take(c) {
				continue
			}
			s.Told = append(s.Told, c)
			switch {
			case c.Secondhand:
			case !torn[v.ID]:
				witnesses[lib.Witness(c.Paper)] = true
			case !slices.Contains(s.Torn, c.Paper):
				s.Torn = append(s.Torn, c.Paper)
			}
		}
		if len(s.Told) > before {
			s.Voices = append(s.Voices, v)
		}
	}
	s.Told = witness.Ordered(s.Told)
	s.Firsthand = len(witnesses)
	s.fill(lib)
	return s
}

func (s *Side) fill(lib *witness.Shelf) {
	for _, c := range s.Told {
		s.Claims = append(s.Claims, c.ID)
		if !slices.Contains(s.Papers, c.Paper) {
			s.Papers = append(s.Papers, c.Paper)
		}
		s.Says = append(s.Says, Saying{Claim: c.ID, Citation: lib.Cite(c.Paper), Paper: c.Paper, Page: c.Page, Value: value.Of(c), Printed: c.Printed,
			Stage: c.Stage, Quote: c.Quote, Secondhand: c.Secondhand, Cited: c.Cited, Echo: lib.Echoes(c)})
	}
	s.Bearing = usual(s.weighty(), lib)
	s.measure(s.weighty())
}

// weighty are the claims that say where a side stands: papers' own findings, or
// what is cited where there are none. Who cites rounds, and forgets the unit.
func (s Side) weighty() []evidence.Claim {
	own := slices.DeleteFunc(slices.Clone(s.Told), func(c evidence.Claim) bool { return c.Secondhand })
	if len(own) == 0 {
		return s.Told
	}
	return own
}

// measure makes the value of a side that of claims: the category that all share,
// and from where to where their numbers reach.
func (s *Side) measure(claims []evidence.Claim) {
	for i, c := range claims {
		if i == 0 {
			s.Category = c.Category
		}
		if c.Category != s.Category {
			s.Category = ""
		}
		if value.HasNumber(c) {
			s.Unit = cmp.Or(s.Unit, c.Unit)
		}
	}
	if spans := spansOf(claims, s.Unit); len(spans) > 0 {
		s.Low, s.High = value.Reach(spans).Ends()
	}
	s.Value = cmp.Or(valueOf(claims, s.Unit, s.Category), string(s.Bearing))
}

// spansOf are the spans of those claims that have numbers in a unit.
func spansOf(claims []evidence.Claim, unit string) []value.Span {
	var out []value.Span
	for _, c := range claims {
		if value.HasNumber(c) && c.Unit == unit {
			out = append(out, value.SpanOf(c))
		}
	}
	return out
}

// usual is the bearing that most papers tell of claims.
func usual(claims []evidence.Claim, lib *witness.Shelf) evidence.Bearing {
	told := map[evidence.Bearing]map[string]bool{}
	for _, c := range claims {
		if told[c.Bearing] == nil {
			told[c.Bearing] = map[string]bool{}
		}
		told[c.Bearing][lib.Witness(c.Paper)] = true
	}
	best := evidence.Reported
	for _, b := range value.Bearings() {
		if len(told[b]) > len(told[best]) {
			best = b
		}
	}
	return best
}

// Bare is the side told by its numbers alone, where what is said of the need for
// them is no part of the question.
func (s Side) Bare() Side {
	s.Value = valueOf(s.weighty(), s.Unit, "")
	return s
}

// valueOf prints the values of claims in one: a word, and from where to where
// their numbers in a unit reach. "0 d" beside "60 d or more" is not all from 0 d on:
// such are told by the numbers printed.
func valueOf(claims []evidence.Claim, unit, category string) string {
	spans := spansOf(claims, unit)
	if len(spans) == 0 {
		return category
	}
	whole, printed := value.Reach(spans), value.Printed(spans)
	low, high := whole.Ends()
	if low != nil && high != nil || slices.Contains(spans, whole) && (low != nil || high != nil) {
		return value.Print(low, high, unit, category)
	}
	beyond := " and beyond"
	switch {
	case low != nil:
		beyond = " and more"
	case high != nil:
		beyond = " and less"
	}
	return value.Print(&printed.Low, &printed.High, unit, category) + beyond
}

// Span is the range of a side's numbers.
func (s Side) Span() value.Span { return value.SpanOf(evidence.Claim{Low: s.Low, High: s.High}) }

// Found reports whether papers stand here by their own findings, be it that some of
// them found the other as well.
func (s Side) Found() bool { return s.Firsthand > 0 || len(s.Torn) > 0 }

// VoiceOf returns the voice whose claim c is.
func (s Side) VoiceOf(c evidence.Claim) witness.Voice {
	for _, v := range s.Voices {
		if slices.ContainsFunc(v.Claims, func(o evidence.Claim) bool { return o.ID == c.ID && o.Paper == c.Paper && o.Start == c.Start }) {
			return v
		}
	}
	return witness.Voice{}
}

// Leaders are the papers with findings of their own, or those that cite where
// there are none.
func (s Side) Leaders() []string {
	var own, other []string
	for _, c := range s.Told {
		if !c.Secondhand && !slices.Contains(own, c.Paper) {
			own = append(own, c.Paper)
		}
	}
	for _, k := range s.Papers {
		if !slices.Contains(own, k) {
			other = append(other, k)
		}
	}
	if len(own) > 0 {
		return own
	}
	return other
}

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
	s.Bearing = usual(s.Told)
	var whole value.Span
	numbers := false
	for i, c := range s.Told {
		s.Claims = append(s.Claims, c.ID)
		if !slices.Contains(s.Papers, c.Paper) {
			s.Papers = append(s.Papers, c.Paper)
		}
		s.Says = append(s.Says, Saying{Claim: c.ID, Citation: lib.Cite(c.Paper), Paper: c.Paper, Page: c.Page, Value: value.Of(c), Printed: c.Printed,
			Stage: c.Stage, Quote: c.Quote, Secondhand: c.Secondhand, Cited: c.Cited, Echo: lib.Echoes(c)})
		if i == 0 {
			s.Category = c.Category
		}
		if c.Category != s.Category {
			s.Category = ""
		}
		switch {
		case !value.HasNumber(c):
		case !numbers:
			whole, numbers, s.Unit = value.SpanOf(c), true, c.Unit
		case c.Unit == s.Unit:
			whole = whole.Join(value.SpanOf(c))
		}
	}
	if numbers {
		s.Low, s.High = whole.Ends()
	}
	s.Value = cmp.Or(value.Print(s.Low, s.High, s.Unit, s.Category), s.Extent(), string(s.Bearing))
}

// usual is the bearing of most claims.
func usual(claims []evidence.Claim) evidence.Bearing {
	count := map[evidence.Bearing]int{}
	best := evidence.Reported
	for _, c := range claims {
		count[c.Bearing]++
	}
	for _, b := range value.Bearings() {
		if count[b] > count[best] {
			best = b
		}
	}
	return best
}

// position is the value with what it did, where that is not plain from it.
func (s Side) position() string {
	_, need := StanceOf(evidence.Claim{Factor: evidence.Drying, Category: s.Category})
	switch {
	case s.Bearing == evidence.Prevents && !(need && s.Category != ""):
		return s.Value + " prevents"
	case s.Bearing == evidence.Indifferent && !(need && s.Category != ""):
		return s.Value + " without effect"
	}
	return s.Value
}

// Extent is the range of the printed numbers of a side that is open at both
// ends, as one with "up to 25 °C" and "18 °C or more" is.
func (s Side) Extent() string {
	var whole value.Span
	some := false
	for _, c := range s.Told {
		for _, v := range []*float64{c.Low, c.High} {
			if v == nil || c.Unit != s.Unit {
				continue
			}
			if !some {
				whole, some = value.Span{Low: *v, High: *v}, true
			}
			whole = whole.Join(value.Span{Low: *v, High: *v})
		}
	}
	if !some {
		return ""
	}
	low, high := whole.Ends()
	return value.Print(low, high, s.Unit, "") + " and beyond"
}

// Span is the range of a side's numbers.
func (s Side) Span() value.Span { return value.SpanOf(evidence.Claim{Low: s.Low, High: s.High}) }

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

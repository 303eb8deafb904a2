package species

import (
	"cmp"
	"slices"
	"strings"

	"hatchlore/evidence"
)

// voice is one source's say on a factor. A paper's own findings are one voice;
// what it cites is the voice of the paper cited, so that nine citations of one
// experiment, and the experiment itself, speak once.
type voice struct {
	id     string
	paper  string // of the findings, or of the source cited when it is in the library
	claims []evidence.Claim
}

// voices sorts claims by who speaks, in a fixed order. The claims are those of
// one factor.
func voices(claims []evidence.Claim, lib *shelf) []voice {
	by := map[string]*voice{}
	own := map[string][]evidence.Claim{}
	for _, c := range claims {
		if !c.Secondhand {
			w := lib.witness(c.Paper)
			own[w] = append(own[w], c)
		}
	}
	for _, c := range claims {
		id, paper := speaker(c, lib, own)
		if by[id] == nil {
			by[id] = &voice{id: id, paper: paper}
		}
		by[id].claims = append(by[id].claims, c)
	}
	out := make([]voice, 0, len(by))
	for _, v := range by {
		out = append(out, *v)
	}
	slices.SortFunc(out, func(a, b voice) int { return strings.Compare(a.id, b.id) })
	return out
}

// speaker says whose finding a claim is. A citation of a paper in the library
// that says otherwise than that paper's own claims is a voice apart: it may
// misquote, or quote what was not read.
func speaker(c evidence.Claim, lib *shelf, own map[string][]evidence.Claim) (id, paper string) {
	if !c.Secondhand {
		w := lib.witness(c.Paper)
		return w, w
	}
	for _, key := range lib.sources(c) {
		w := lib.witness(key)
		if said := own[w]; len(said) == 0 || slices.ContainsFunc(said, func(o evidence.Claim) bool { return agree(o, c) }) {
			return w, w
		}
	}
	if key := lib.echoes(c); key != "" {
		w := lib.witness(key)
		return w + " as cited by " + c.Paper, w
	}
	if c.Cited != "" {
		return "cited " + strings.Join(strings.Fields(strings.ToLower(strings.Trim(c.Cited, "()[] .,;"))), " "), ""
	}
	return "cited in " + c.Paper, ""
}

// agree reports whether two claims on one factor say the same thing.
func agree(a, b evidence.Claim) bool {
	if a.Bearing != b.Bearing || a.Category != "" && b.Category != "" && a.Category != b.Category {
		return false
	}
	if hasNumber(a) && hasNumber(b) {
		return a.Unit == b.Unit && meet(a.Factor, spanOf(a), spanOf(b))
	}
	return a.Category == b.Category || a.Category == "" || b.Category == ""
}

// reach is the span of a voice's numeric claims with one of the bearings;
// ok is false when it has none.
func (v voice) reach(unit string, bearings ...evidence.Bearing) (s span, ok bool) {
	for _, c := range v.claims {
		if !hasNumber(c) || c.Unit != unit || !slices.Contains(bearings, c.Bearing) {
			continue
		}
		if !ok {
			s, ok = spanOf(c), true
			continue
		}
		s = s.join(spanOf(c))
	}
	return s, ok
}

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

	voices []voice          // whose claims these are, with all they say on the factor
	claims []evidence.Claim // the same as Claims
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
	Words      string         `json:"words"` // as a reader would quote it, see [Words]; "" is the quote
	Table      bool           `json:"table"` // Words are a table's
	Secondhand bool           `json:"secondhand"`
	Cited      string         `json:"cited"`
	Echo       string         `json:"echo"` // key of the cited paper, when it is in the library
}

// side makes a side of the claims that take picks from the voices. Voices that
// stand on the other side as well (torn) are shown but are no witnesses.
func side(lib *shelf, vs []voice, torn map[string]bool, take func(evidence.Claim) bool) Side {
	s := Side{Claims: []string{}, Papers: []string{}, Torn: []string{}, Says: []Saying{}}
	witnesses := map[string]bool{}
	for _, v := range vs {
		before := len(s.claims)
		for _, c := range v.claims {
			if !take(c) {
				continue
			}
			s.claims = append(s.claims, c)
			switch {
			case c.Secondhand:
			case !torn[v.id]:
				witnesses[lib.witness(c.Paper)] = true
			case !slices.Contains(s.Torn, c.Paper):
				s.Torn = append(s.Torn, c.Paper)
			}
		}
		if len(s.claims) > before {
			s.voices = append(s.voices, v)
		}
	}
	s.claims = ordered(s.claims)
	s.Firsthand = len(witnesses)
	s.fill(lib)
	return s
}

func (s *Side) fill(lib *shelf) {
	s.Bearing = usual(s.claims)
	var whole span
	numbers := false
	for i, c := range s.claims {
		s.Claims = append(s.Claims, c.ID)
		if !slices.Contains(s.Papers, c.Paper) {
			s.Papers = append(s.Papers, c.Paper)
		}
		s.Says = append(s.Says, Saying{Claim: c.ID, Citation: lib.cite(c.Paper), Paper: c.Paper, Page: c.Page, Value: Value(c), Printed: c.Printed,
			Stage: c.Stage, Quote: c.Quote, Secondhand: c.Secondhand, Cited: c.Cited, Echo: lib.echoes(c)})
		if i == 0 {
			s.Category = c.Category
		}
		if c.Category != s.Category {
			s.Category = ""
		}
		switch {
		case !hasNumber(c):
		case !numbers:
			whole, numbers, s.Unit = spanOf(c), true, c.Unit
		case c.Unit == s.Unit:
			whole = whole.join(spanOf(c))
		}
	}
	if numbers {
		s.Low, s.High = whole.ends()
	}
	s.Value = cmp.Or(valueOf(s.Low, s.High, s.Unit, s.Category), s.extent(), string(s.Bearing))
}

// usual is the bearing of most claims.
func usual(claims []evidence.Claim) evidence.Bearing {
	count := map[evidence.Bearing]int{}
	best := evidence.Reported
	for _, c := range claims {
		count[c.Bearing]++
	}
	for _, b := range bearingOrder {
		if count[b] > count[best] {
			best = b
		}
	}
	return best
}

// position is the value with what it did, where that is not plain from it.
func (s Side) position() string {
	_, need := stanceOf(evidence.Claim{Factor: evidence.Drying, Category: s.Category})
	switch {
	case s.Bearing == evidence.Prevents && !(need && s.Category != ""):
		return s.Value + " prevents"
	case s.Bearing == evidence.Indifferent && !(need && s.Category != ""):
		return s.Value + " without effect"
	}
	return s.Value
}

// extent is the range of the printed numbers of a side that is open at both
// ends, as one with "up to 25 °C" and "18 °C or more" is.
func (s Side) extent() string {
	var whole span
	some := false
	for _, c := range s.claims {
		for _, v := range []*float64{c.Low, c.High} {
			if v == nil || c.Unit != s.Unit {
				continue
			}
			if !some {
				whole, some = span{*v, *v}, true
			}
			whole = whole.join(span{*v, *v})
		}
	}
	if !some {
		return ""
	}
	low, high := whole.ends()
	return valueOf(low, high, s.Unit, "") + " and beyond"
}

func (s Side) span() span { return spanOf(evidence.Claim{Low: s.Low, High: s.High}) }

// leaders are the papers with findings of their own, or those that cite where
// there are none.
func (s Side) leaders() []string {
	var own, other []string
	for _, c := range s.claims {
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

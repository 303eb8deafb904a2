package quantity

import "strings"

// bound says what the words beside a number make of it.
type bound uint8

const (
	none   bound = iota
	low          // at least
	high         // at most
	inside       // within: at most, for one value; nothing on a range
	beyond       // over: at least, for one value; a range is only spanned
)

// apply opens one end of an item.
func (b bound) apply(it Item) Item {
	switch {
	case it.Low == nil || it.High == nil:
	case b == low, b == beyond && *it.Low == *it.High:
		it.High = nil
	case b == high, b == inside && *it.Low == *it.High:
		it.Low = nil
	}
	return it
}

// turned is what the bound says where a value is not to lie there.
func (b bound) turned() bound {
	switch b {
	case low, beyond:
		return high
	case high, inside:
		return low
	}
	return b
}

// boundBefore reads the words that end before token i: "at least", "up to
// about". It looks past a few fillers.
func (p *page) boundBefore(i int, kind Kind) (b bound, approx bool) {
	definite := false
	for k := 0; k < 5 && i > 0; k++ {
		best, n := none, 0
		for _, c := range bounds {
			if m := p.before(i, c.r); m > n && !silent(c.r, kind) {
				best, n = c.b, m
			}
		}
		a := p.before(i, roleApprox)
		if n > a {
			if definite && p.key(i-1) == "than" {
				return none, approx // "longer than the 30 days": a known value, no bound
			}
			if k > 0 && n == 1 && isExtreme(p.key(i-1)) {
				return none, approx // "with a maximum about 20 °C": where hatching was best
			}
			if p.before(i-n, roleNotBe) > 0 {
				best = best.turned() // "should not be shorter than two months"
			}
			return best, approx
		}
		if a > 0 {
			approx = true
			i -= a
			continue
		}
		m := max(p.before(i, roleFiller), p.before(i, roleMeasureNoun))
		if m == 0 || p.before(i, roleFrom) > 0 || p.before(i, roleBetween) > 0 {
			return none, approx
		}
		_, the := p.at(i-m, roleDefinite)
		definite = definite || the > 0
		i -= m
	}
	return none, approx
}

// isExtreme reports whether a word names the highest or lowest of something, which
// bounds a number only right before it.
func isExtreme(w string) bool {
	return strings.HasSuffix(w, "imum") || strings.HasSuffix(w, "imo") && len(w) > 4
}

// bounds are the roles that stand before a number.
var bounds = []struct {
	r role
	b bound
}{
	{roleLowBefore, low}, {roleHighBefore, high}, {roleInside, inside}, {roleLowBeforeNoTime, beyond},
	{roleHighBeforeNoLight, high}, {roleLowBeforeNoShare, low}, {roleHighBeforeNoShare, high},
}

// silent reports whether a role says nothing beside quantities of a kind.
func silent(r role, kind Kind) bool {
	switch r {
	case roleLowBeforeNoTime:
		return kind == Duration || kind == Photoperiod
	case roleHighBeforeNoLight:
		return kind == Photoperiod
	case roleLowBeforeNoShare, roleHighBeforeNoShare:
		return kind == Fraction
	}
	return false
}

// boundAfter reads "or more" after token i-1.
//
// "and over" must end its phrase: "at 25 °C and under light" bounds nothing.
// Words before a further number belong to that one.
func (p *page) boundAfter(i int) bound {
	b, n := low, 0
	if _, n = p.at(i, roleLowAfter); n == 0 {
		if _, n = p.at(i, roleHighAfter); n == 0 {
			return none
		}
		b = high
	}
	if _, ok := p.numeralAt(i + n); ok {
		return none
	}
	if _, and := p.at(i, roleAnd); and > 0 && p.is(i+n, word) {
		return none
	}
	if _, the := p.at(i+n, roleDefinite); the > 0 && n == 1 && len(p.key(i)) < 3 {
		return none // "drei Tage an der Luft": a short word alone is a preposition
	}
	return b
}

// boundAt reads a sign or words that bound the number behind token i.
func (p *page) boundAt(i int) (bound, int) {
	best, n := none, 0
	for _, c := range bounds {
		if _, m := p.at(i, c.r); m > n {
			best, n = c.b, m
		}
	}
	return best, n
}

// step reports whether a temperature between tokens first and end is a
// difference.
func (p *page) step(first, end int) bool {
	if _, n := p.at(end, roleStepAfter); n > 0 {
		return true
	}
	i := first
	for k := 0; k < 3; k++ {
		if p.before(i, roleStepBefore) > 0 {
			return true
		}
		n := max(p.before(i, roleApprox), p.before(i, roleLowBefore), p.before(i, roleHighBefore))
		if n == 0 {
			return false
		}
		i -= n
	}
	return false
}

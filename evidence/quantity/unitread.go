package quantity

import (
	"math"
	"strconv"
	"strings"
)

// unitMatch is a unit read after a number.
type unitMatch struct {
	unit    Unit
	kind    Kind
	factor  float64 // a fortnight is 2 wk
	n       int     // tokens, with a hyphen before the unit
	guessed bool
	spelled bool // a word rather than a symbol
	langs   langs
}

// part is one factor of a unit.
type part struct {
	unit  Unit
	power int
}

// unitAfter reads the unit at token i, which follows the number token i-1.
func (p *page) unitAfter(i int, value float64) (unitMatch, bool) {
	skip := 0
	if p.key(i) == "-" && p.glued(i) && p.glued(i+1) {
		skip = 1
	}
	e, n := p.unitAt(i + skip)
	if n == 0 || !p.plausible(i+skip, n, e, value) {
		return unitMatch{}, false
	}
	m := unitMatch{unit: e.unit, factor: e.value, n: skip + n, guessed: e.guessed, spelled: !e.symbol, langs: e.langs}
	parts := []part{{e.unit, 1}}
	at := i + m.n
	if power, k, ok := p.power(at); ok {
		parts[0].power = power
		at += k
	}
	parts, at = p.moreParts(at, parts)
	if len(parts) == 1 && parts[0].power == 1 {
		if p.key(at) == "-" && p.glued(at) && p.glued(at+1) && skip == 0 {
			if f, k := p.unitAt(at + 1); k > 0 && (e.unit != Hour || kindOf(f.unit) == Temperature) { // degree-days, horas-grau
				return unitMatch{}, false
			}
		}
		m.kind = kindOf(m.unit)
		m.guessed = m.guessed || m.unit == "uS" || m.unit == "mS" // "per cm" left out
		return m, true
	}
	m.unit = compound(parts)
	m.kind = kindOf(m.unit)
	m.n = at - i
	return m, true
}

func kindOf(u Unit) Kind {
	if info, ok := units[u]; ok {
		return info.kind
	}
	return Other
}

// moreParts reads what may follow the first part: "/L", "per litre", "l-1".
func (p *page) moreParts(at int, parts []part) ([]part, int) {
	for len(parts) < 4 {
		k, sign := 0, 1
		if p.key(at) == "/" {
			k, sign = 1, -1
		} else if _, n := p.at(at, rolePer); n > 0 && p.key(at) != "a" && p.key(at) != "al" {
			k, sign = n, -1
		} else if p.key(at) == "·" || p.key(at) == "⋅" || p.key(at) == "*" || p.key(at) == "." || p.key(at) == "times" {
			k = 1
		}
		e, n := p.unitAt(at + k)
		if n == 0 || e.guessed || (k == 0 && !e.symbol) {
			if k == 0 && len(parts) == 1 && p.substance(at, parts[0].unit) && !p.substance(at+1, parts[0].unit) {
				if more, end := p.moreParts(at+1, parts); len(more) > 1 {
					return more, end
				}
			}
			return parts, at
		}
		if sign < 0 && e.unit == Day && parts[0].unit == Hour { // hours a day
			return parts, at
		}
		power, j, raised := p.power(at + k + n)
		if sign > 0 && (!raised || power > 0) { // only "L-1" may follow a blank
			return parts, at
		}
		if !raised {
			power = 1
		}
		parts = append(parts, part{e.unit, sign * power})
		at += k + n + j
	}
	return parts, at
}

// substance reports whether token i names what a mass or volume is of, between
// it and its "per litre": "8.3 mg O2 l-1", "5 g NaCl/L".
func (p *page) substance(i int, u Unit) bool {
	switch u {
	case "mg", "g", "ug", "mL":
	default:
		return false
	}
	if _, n := p.at(i, roleOxygen); n == 1 {
		return true
	}
	_, n := p.at(i, roleSalinity)
	return n == 1
}

// power reads an exponent after a unit's letters: "-1", "−1", "⁻¹", "^-1",
// "super(-1)", "2", "²".
func (p *page) power(i int) (power, n int, ok bool) {
	k := i
	if p.key(k) == "^" || p.key(k) == "_" {
		k++
	} else if p.key(k) == "super" && p.key(k+1) == "(" {
		k += 2
	}
	caret := k > i
	sign := 1
	if p.key(k) == "-" || p.key(k) == "⁻" {
		sign = -1
		k++
	}
	switch {
	case k > i && sign < 0 && p.is(k, figure) && p.glued(k) && p.toks[k].plain && small(p.toks[k].value):
		power, ok = int(p.toks[k].value)*sign, true
	case sign > 0 && p.is(k, figure) && p.toks[k].value < 0 && small(-p.toks[k].value) && !p.startsQuantity(k+1):
		power, ok = int(p.toks[k].value), true
	case caret && p.is(k, figure) && small(p.toks[k].value):
		power, ok = int(p.toks[k].value), true
	case p.is(k, mark) && p.glued(k):
		if d, up := raisedDigit([]rune(p.raw(k))[0]); up && d >= 1 && d <= 3 {
			power, ok = sign*d, true
		}
	}
	if !ok {
		return 0, 0, false
	}
	k++
	if p.key(i) == "super" && p.key(k) == ")" {
		k++
	}
	return power, k - i, true
}

func small(v float64) bool { return v == 1 || v == 2 || v == 3 }

// startsQuantity reports whether a unit stands at token i, so that the number
// before it is a value ("to 5 °C −2 °C") rather than an exponent.
func (p *page) startsQuantity(i int) bool {
	e, n := p.unitAt(i)
	return n > 0 && !p.glued(i) && kindOf(e.unit) == Temperature
}

// compound names a product of parts: the table's id when there is one.
func compound(parts []part) Unit {
	var up, down []string
	for _, q := range parts {
		name := string(q.unit)
		if a := abs(q.power); a > 1 {
			name += strconv.Itoa(a)
		}
		if q.power > 0 {
			up = append(up, name)
		} else {
			down = append(down, name)
		}
	}
	top := strings.Join(up, ".")
	if top == "" {
		top = "1"
	}
	switch id := Unit(top + "/" + strings.Join(down, "/")); {
	case len(down) == 0:
		return Unit(top)
	case id == "mg/dm3":
		return MgL
	case id == "g/dm3":
		return GramL
	default:
		return id
	}
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// plausible refuses what looks like a unit and is none.
func (p *page) plausible(i, n int, e entry, value float64) bool {
	next := i + n
	if _, m := p.at(i, rolePartOfDay); m > 0 && value <= 1 {
		return false
	}
	switch {
	case p.is(next, word) && p.glued(next) && n > 1 && e.symbol: // "°Cx"
		return false
	case e.unit == Kelvin:
		return value >= 200 && value <= 400
	case e.unit == "s" && p.glued(i):
		return !(value >= 1000 || math.Mod(value, 10) == 0 && value <= 90 && p.before(i-1, roleFiller) > 0) // 1990s, in the 20s
	case e.unit == "yr" && p.raw(i) == "y":
		_, ok := p.numeralAt(next)
		return !ok && p.glued(i) || p.key(i-1) != "" && !ok && !p.is(next, word)
	case p.raw(i) == "d" && p.key(next) == "'":
		return false
	case e.guessed && kindOf(e.unit) == Temperature:
		return p.plausibleDegree(i, n, e, value)
	case e.unit == "M" || e.unit == "J" || e.unit == "V" || e.unit == "W":
		return p.key(next) != "." || !p.is(next+1, word)
	}
	return true
}

// plausibleDegree judges spellings that are a temperature only by what stands
// around them: a bare degree sign is also an angle, and a C an initial.
func (p *page) plausibleDegree(i, n int, e entry, value float64) bool {
	next := p.key(i + n)
	switch p.key(i) {
	case "c", "f":
		if p.is(i+n, word) && p.glued(i+n) || next == "." && p.is(i+n+1, word) && !p.sentenceStarts(i+n+1) || next == "=" {
			return false
		}
		if p.key(i) == "f" {
			return value >= 30 && value <= 130 && p.warmth(i)
		}
		return value >= -80 && value <= 60 && p.warmth(i)
	case "0": // 10 0C
		return p.raw(i) == "0" && !p.glued(i)
	case "°":
		if !p.warmth(i) {
			return false
		}
		if p.glued(i+1) && (p.is(i+1, figure) || p.is(i+1, word)) || next == "'" || next == "n" || next == "s" || next == "w" || next == "e" || strings.HasSuffix(next, "dh") || strings.HasSuffix(next, "gh") || strings.HasSuffix(next, "kh") { // compass, hardness
			return false
		}
		if _, k := p.at(i+1, roleClock); k > 0 { // 8º dia
			return false
		}
		return value >= -80 && value <= 130
	}
	return next != "of" && next != "north" && next != "south" && next != "-" && value >= -80 && value <= 130
}

// warmth reports whether a capital behind the number can stand for a degree:
// words of warmth, of keeping or of eggs stand near in the sentence.
func (p *page) warmth(i int) bool {
	return p.cueNear(i, roleTemperature, 12) || p.cueNear(i, roleHatch, 12)
}

func (p *page) sentenceStarts(i int) bool {
	r := []rune(p.raw(i))
	return len(r) > 1 && strings.ToUpper(string(r[0])) == string(r[0]) && !p.glued(i)
}

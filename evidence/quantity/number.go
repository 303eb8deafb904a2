package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// scanNumber reads the number at s[start], which is a digit or a point before
// one. plain says that it is a bare run of digits, as a year would be.
//
// A comma before three digits groups thousands and any other comma is a
// decimal one, unless the text at large writes decimal commas; then a point
// before three digits groups thousands. An apostrophe groups before three
// digits ("10'000") and is decimal before one or two ("32'5"). A number with
// three parts joined by points (a date, a version) has no value: NaN.
func scanNumber(s string, start int, commas bool) (end int, value float64, plain bool) {
	i := digitsEnd(s, start)
	whole, frac, dated := s[start:i], "", false
	plain = true
loop:
	for i < len(s) {
		sep, n := utf8.DecodeRuneInString(s[i:])
		g := digitsEnd(s, i+n) - (i + n)
		if g == 0 {
			break
		}
		group := g == 3 && frac == "" && len(whole) > 0 && whole != "0" && (len(whole) <= 3 || !plain)
		switch {
		case sep == ',' && frac == "" && (group && (!commas || !plain || groupFollows(s, i+n+g))):
		case sep == ',' && frac == "" && plain && !listFollows(s, i+n+g):
			frac = s[i+n : i+n+g]
			group = false
		case sep == '.' && group && commas:
		case sep == '.' && frac == "":
			frac = s[i+n : i+n+g]
			group = false
		case sep == '.':
			dated = true
			group = false
		case (sep == '\'' || sep == '’') && group:
		case (sep == '\'' || sep == '’') && frac == "" && g <= 2 && plain:
			frac = s[i+n : i+n+g]
			group = false
		case sep == '·' && frac == "" && plain && !timesTen(s, i):
			frac = s[i+n : i+n+g]
			group = false
		case (sep == '\u00a0' || sep == '\u2009' || sep == '\u202f') && group:
		case sep == ' ' && group && s[i+n:i+n+g] == "000":
		default:
			break loop
		}
		if group {
			whole += s[i+n : i+n+g]
		}
		plain = false
		i += n + g
	}
	if dated {
		return i, math.NaN(), false
	}
	v, err := strconv.ParseFloat(whole+"."+frac, 64)
	if err != nil && !math.IsInf(v, 0) {
		v = math.NaN()
	}
	if e, exp, ok := powerOfTen(s, i, v); ok {
		return e, exp, false
	}
	return i, v, plain
}

func digitsEnd(s string, i int) int {
	for isDigit(s, i) {
		i++
	}
	return i
}

// groupFollows and listFollows look one separator further: "1,234,567" is one
// number, "10,15,20" are three.
func groupFollows(s string, i int) bool {
	return i < len(s) && s[i] == ',' && digitsEnd(s, i+1) == i+4
}

func listFollows(s string, i int) bool { return i < len(s) && s[i] == ',' && isDigit(s, i+1) }

func timesTen(s string, i int) bool { return strings.HasPrefix(s[i:], "·10^") }

// powerOfTen reads "10^6", "10⁶" and "1.2 × 10^-3" where v was read up to i.
func powerOfTen(s string, i int, v float64) (end int, value float64, ok bool) {
	if v == 10 {
		if e, x, ok := exponent(s, i); ok {
			return e, math.Pow10(x), true
		}
		return 0, 0, false
	}
	j := skipSpace(s, i)
	r, n := utf8.DecodeRuneInString(s[j:])
	if r != '×' && r != 'x' && r != '·' && r != '*' {
		return 0, 0, false
	}
	j = skipSpace(s, j+n)
	if !strings.HasPrefix(s[j:], "10") {
		return 0, 0, false
	}
	if e, x, ok := exponent(s, j+2); ok {
		return e, v * math.Pow10(x), true
	}
	return 0, 0, false
}

// exponent reads "^6", "^-6" and raised digits.
func exponent(s string, i int) (end, value int, ok bool) {
	digits, sign, raised := 0, 1, strings.HasPrefix(s[min(i, len(s)):], "^")
	if raised {
		i++
	}
	for first := true; i < len(s); first = false {
		r, n := utf8.DecodeRuneInString(s[i:])
		d, up := raisedDigit(r)
		switch {
		case first && (r == '⁻' || (raised && isDash(r))):
			sign = -1
		case up, raised && r >= '0' && r <= '9':
			if !up {
				d = int(r - '0')
			}
			value = min(value*10+d, 1000)
			digits++
		default:
			return i, sign * value, digits > 0
		}
		i += n
	}
	return i, sign * value, digits > 0
}

func raisedDigit(r rune) (int, bool) {
	switch r {
	case '¹':
		return 1, true
	case '²':
		return 2, true
	case '³':
		return 3, true
	}
	if r == '⁰' || (r >= '⁴' && r <= '⁹') {
		return int(r - '⁰'), true
	}
	return 0, false
}

func skipSpace(s string, i int) int {
	for i < len(s) {
		r, n := utf8.DecodeRuneInString(s[i:])
		if r != ' ' && r != '\u00a0' && r != '\u2009' && r != '\u202f' {
			break
		}
		i += n
	}
	return i
}

// decimalCommas reports whether a text writes decimal commas: more numbers of
// it have a comma before one or two last digits than a point there.
func decimalCommas(text string) bool {
	commas, points := 0, 0
	for i := 1; i+1 < len(text); i++ {
		if (text[i] != ',' && text[i] != '.') || !isDigit(text, i-1) || !isDigit(text, i+1) {
			continue
		}
		if e := digitsEnd(text, i+1); e-i-1 == 3 || (e+1 < len(text) && (text[e] == ',' || text[e] == '.') && isDigit(text, e+1)) {
			continue
		}
		if text[i] == ',' {
			commas++
		} else {
			points++
		}
	}
	if commas == 0 && points == 0 {
		return groupsWithPoints(text)
	}
	return commas > points
}

// groupsWithPoints reports whether a text that shows no decimal sign otherwise
// has a number like 2.000 and is not English.
func groupsWithPoints(text string) bool {
	if !strings.Contains(text, ".000") {
		return false
	}
	english, other := 0, 0
	for _, w := range []string{" the ", " of ", " and ", " was ", " with "} {
		english += strings.Count(text, w)
	}
	for _, w := range []string{" de ", " der ", " die ", " und ", " la ", " el ", " os ", " di ", " les ", " com "} {
		other += strings.Count(text, w)
	}
	return other > english
}

// numeral is a number read in digits or words.
type numeral struct {
	value   float64
	n       int  // tokens
	article bool // "a week": only words that measure time may follow
	spelled bool
	langs   langs // of the number word
}

// numeralAt reads the number that starts at token i, in digits or in words.
func (p *page) numeralAt(i int) (numeral, bool) {
	if p.is(i, figure) {
		t := p.toks[i]
		if math.IsNaN(t.value) || math.IsInf(t.value, 0) {
			return numeral{}, false
		}
		if p.is(i+1, figure) && t.plain && p.toks[i+1].value < 1 && p.toks[i+1].value > 0 && p.toks[i+1].key != "0" {
			return numeral{value: t.value + p.toks[i+1].value, n: 2}, true // 1½
		}
		if v, ok := p.halfAt(i); ok {
			return numeral{value: v, n: 3}, true
		}
		if v, ok := p.halfAt(i + 1); ok && t.plain { // 2 1/2
			return numeral{value: t.value + v, n: 4}, true
		}
		if e, n := p.at(i+1, roleNumber); n == 1 && e.value >= 1000 && !p.glued(i+1) { // 1.5 million
			return numeral{value: t.value * e.value, n: 2}, true
		}
		return numeral{value: t.value, n: 1}, true
	}
	if !p.is(i, word) {
		return numeral{}, false
	}
	if e, n := p.at(i, roleNumber); n > 0 {
		if p.before(i, roleVague) > 0 {
			return numeral{}, false
		}
		v, n := p.compose(i, e.value, n)
		return numeral{value: v, n: n, spelled: true, langs: e.langs}, true
	}
	if a, n := p.at(i, roleArticle); n > 0 {
		if e, m := p.at(i+n, roleNumber); m > 0 && e.value >= 12 { // a dozen, a hundred
			v, m := p.compose(i+n, e.value, m)
			return numeral{value: v, n: n + m, spelled: true, langs: e.langs}, true
		}
		return numeral{value: 1, n: n, article: true, spelled: true, langs: a.langs}, true
	}
	if a, n := p.at(i, roleDefinite); n > 0 && p.before(i, roleInside) > 0 {
		return numeral{value: 1, n: n, article: true, spelled: true, langs: a.langs}, true
	}
	return numeral{}, false
}

// halfAt reads "1/2", "1/3" and "1/4" in three tokens.
func (p *page) halfAt(i int) (float64, bool) {
	if !p.is(i, figure) || !p.is(i+2, figure) || p.key(i+1) != "/" || !p.glued(i+1) || !p.glued(i+2) {
		return 0, false
	}
	top, bottom := p.toks[i], p.toks[i+2]
	if !top.plain || !bottom.plain || top.value != 1 || bottom.value < 2 || bottom.value > 4 {
		return 0, false
	}
	return 1 / bottom.value, true
}

// compose adds the number words that follow: "twenty-four", "two hundred and
// fifty", "treinta y seis".
func (p *page) compose(i int, v float64, n int) (float64, int) {
	for {
		at := i + n
		skip := 0
		if p.key(at) == "-" && p.glued(at) {
			skip = 1
		} else if _, m := p.at(at, roleCompose); m > 0 {
			skip = m
		} else if p.key(at) == "and" && v >= 100 {
			skip = 1
		}
		e, m := p.at(at+skip, roleNumber)
		switch {
		case m == 0:
			return v, n
		case skip == 0 && (e.value == 100 || e.value == 1000) && v > 0 && v < e.value && v == math.Trunc(v):
			v *= e.value
		case v >= 20 && v < 100 && math.Mod(v, 10) == 0 && e.value >= 1 && e.value < 10 && e.value == math.Trunc(e.value):
			v += e.value
		case v >= 100 && math.Mod(v, 100) == 0 && e.value >= 1 && e.value < 100 && e.value == math.Trunc(e.value):
			v += e.value
		default:
			return v, n
		}
		n += skip + m
	}
}

package quantity

import "math"

// link is one number of a chain such as "10, 15 and 20 °C" or "1 h to 36 h".
type link struct {
	first, end int // tokens, with its unit
	num        int // tokens of the number itself
	value      numeral
	unit       unitMatch
	has        bool // a unit of its own
	spread     *float64
	doubtful   bool    // the deviation's sign is likely a misread ±
	extra      float64 // "a month and a half", "1 h 30 min"
	join       joint   // how it is joined to the link before it
	op         bound   // a sign or words before this number alone: "> 20 and < 30 %"
	minus      int     // tokens of a word that makes the number negative: "minus 18 °C"
}

// link reads a number with its deviation and unit.
func (p *page) link(i int, j joint) (link, bool) {
	v, ok := p.numeralAt(i)
	if !ok || p.is(i, word) && p.glued(i) && p.is(i-1, figure) {
		return link{}, false
	}
	l := link{first: i, num: v.n, end: i + v.n, value: v, join: j}
	if n := p.before(i, roleMinus); n > 0 && p.before(i, rolePlusMinus) == 0 && p.before(i, roleLowBefore) <= n && p.before(i, roleHighBefore) <= n {
		l.minus = n
	}
	if p.is(i, figure) && p.is(i-1, word) && p.glued(i) && p.key(i-1) != "ph" {
		return link{}, false
	}
	if _, n := p.at(l.end, roleHalf); n > 0 {
		l.extra = 0.5
		l.end += n
	}
	l.end = p.deviation(l.end, &l)
	if u, ok := p.unitAfter(l.end, v.value); ok && p.fits(l, u) {
		l.unit, l.has = u, true
		l.end += u.n
		if _, n := p.at(l.end, roleHalf); n > 0 && u.kind == Duration {
			l.extra = 0.5
			l.end += n
		}
		if l.spread == nil {
			l.end = p.deviation(l.end, &l)
			if u, ok := p.unitAfter(l.end, v.value); ok && l.spread != nil && u.unit == l.unit.unit {
				l.end += u.n
			}
		}
		l.end = p.lesserUnit(l.end, &l)
		if _, n := p.at(l.end, roleBelowZero); n > 0 && u.kind == Temperature {
			l.value.value = -l.value.value
			l.end += n
		}
		return l, true
	}
	if v.article { // of use in "ein bis 14 Tagen", "una o due settimane" only
		_, n := p.at(l.end, roleTo)
		if n == 0 {
			_, n = p.at(l.end, roleOr)
		}
		_, spelled := p.at(l.end+n, roleNumber)
		return l, n > 0 && (spelled > 0 || p.is(l.end+n, figure))
	}
	if p.key(l.end) == "-" && p.glued(l.end) && !p.glued(l.end+1) && !p.is(l.end+1, figure) {
		l.end++ // the hanging hyphen of "2- to 4-week"
	}
	return l, true
}

// fits refuses what only looks like number and unit.
func (p *page) fits(l link, u unitMatch) bool {
	v := l.value
	switch {
	case v.spelled && u.spelled && v.langs&u.langs == 0:
		return false
	case v.article:
		_, later := p.at(l.end+u.n, roleArticleFollowed)
		if _, n := p.at(l.end+u.n, roleHalf); n > 0 {
			later = n
		}
		return u.kind == Duration && u.spelled && (later > 0 || p.articleCounts(l.first) || p.orTwo(l.end+u.n))
	case u.unit == Larvae || u.unit == Eggs:
		return v.value >= 0 && v.value == math.Trunc(v.value)
	case v.spelled:
		return u.spelled || u.unit == Percent || len(p.raw(l.end)) > 1 || !isLetterUnit(u.unit)
	case len(u.unit) == 1 && p.glued(l.end) && p.labelled(l.first): // Fig. 8d
		return false
	case u.unit == Hour && p.timeOfDay(l):
		return false
	}
	return true
}

// timeOfDay reports whether the number of l is one: "0830 h", "at 1200 h".
func (p *page) timeOfDay(l link) bool {
	if t := p.toks[l.first]; !t.plain || t.end-t.start != 4 || t.value > 2400 {
		return false
	}
	return p.raw(l.first)[0] == '0' || p.key(l.first-1) == "at"
}

func isLetterUnit(u Unit) bool { return len(u) == 1 && u != Percent }

// articleCounts reports whether an article at token i means one.
func (p *page) articleCounts(i int) bool {
	if p.before(i, roleArticleLead) > 0 || p.before(i, roleArticleAfter) > 0 || p.before(i, roleApprox) > 0 {
		return true
	}
	return p.before(i, roleLowBefore) > 0 || p.before(i, roleHighBefore) > 0 || p.before(i, roleInside) > 0
}

// orTwo reports whether "or two" follows: "a day or two".
func (p *page) orTwo(i int) bool {
	_, n := p.at(i, roleOr)
	if n == 0 {
		return false
	}
	e, m := p.at(i+n, roleNumber)
	return m > 0 && e.value == 2
}

// deviation reads "± 1" at token i into l and returns the token after it.
func (p *page) deviation(i int, l *link) int {
	k := i
	if p.key(k) == "(" {
		k++
	}
	n := 0
	if p.key(k) == "±" {
		n = 1
	} else if _, m := p.at(k, rolePlusMinus); m > 0 {
		n = m
	} else if _, m := p.at(k, roleDeviation); m > 0 && k > i {
		n = m
	} else if p.scannedPlus(k, l) {
		n = 1
		l.doubtful = true
	}
	if n == 0 || !p.is(k+n, figure) || math.IsNaN(p.toks[k+n].value) {
		return i
	}
	v := math.Abs(p.toks[k+n].value)
	l.spread = &v
	n++
	if k > i {
		if _, m := p.unitAt(k + n); m > 0 {
			n += m
		}
		if p.key(k+n) != ")" {
			l.spread = nil
			return i
		}
		n++
	}
	return k + n
}

// scannedPlus reports whether a plus at token k is a scanned ±: a small number
// and a unit of temperature follow ("25 + 1 °C").
func (p *page) scannedPlus(k int, l *link) bool {
	if p.key(k) != "+" || l.has || !p.is(k+1, figure) || p.toks[k+1].value > 5 || p.toks[k+1].value >= l.value.value {
		return false
	}
	e, n := p.unitAt(k + 2)
	return n > 0 && kindOf(e.unit) == Temperature
}

// lesserUnit adds "30 min" to "1 h".
func (p *page) lesserUnit(i int, l *link) int {
	if l.unit.kind != Duration || l.spread != nil || p.is(i-1, mark) {
		return i
	}
	v, ok := p.numeralAt(i)
	if !ok || v.article || !p.is(i, figure) {
		return i
	}
	u, ok := p.unitAfter(i+v.n, v.value)
	if !ok || u.kind != Duration {
		return i
	}
	c, err := Convert(v.value*u.factor, u.unit, l.unit.unit)
	if err != nil || c >= 1 || c <= 0 {
		return i
	}
	l.extra += c
	return i + v.n + u.n
}

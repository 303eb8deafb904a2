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
	half       float64 // "a month and a half"
	join       joint   // how it is joined to the link before it
	op         bound   // a sign or words before this number alone: "> 20 and < 30 %"
	minus      int     // tokens of a word that makes the number negative: "minus 18 °C"
}

type joint uint8

const (
	start joint = iota
	rangeTo
	listComma
	listAnd
	listOr
	slash
)

// chain reads numbers that are joined and share units.
func (p *page) chain(i int) (*Quantity, int) {
	links := p.links(i)
	if len(links) == 0 {
		return nil, i
	}
	last := -1
	for k, l := range links {
		if l.has {
			last = k
		}
	}
	if last < 0 {
		return p.unitless(links)
	}
	if last+1 < len(links) && links[last].value.article && links[last+1].join == listOr && links[last+1].value.value == 2 {
		last++ // a day or two
		links[last].unit, links[last].has = links[last-1].unit, true
		links[last-1].has = false
	}
	if n := p.named(links[:last+1]); n > 0 {
		return p.unitless(links[:n])
	}
	links = p.oneUnit(links[:last+1])
	if !links[len(links)-1].has {
		return p.unitless(links)
	}
	return p.assemble(links)
}

// links reads a number and all that are joined to it.
func (p *page) links(i int) []link {
	l, ok := p.link(i, start)
	if !ok {
		return nil
	}
	links := []link{l}
	between := p.opened(i)
	for len(links) < maxLinks {
		j, at := p.joint(links[len(links)-1].end, between)
		if j == start {
			break
		}
		behind := at
		at, op := p.fillers(at)
		if j == listComma && at > behind && p.is(behind, word) {
			break // "in the other two, at 12 °C"
		}
		l, ok := p.link(at, j)
		if !ok || l.value.article && j != rangeTo && j != listOr {
			break
		}
		l.op = op
		links = append(links, l)
		if j == rangeTo {
			between = false
		}
	}
	return links
}

// maxLinks bounds a chain, so that a page of numbers stays linear to read.
const maxLinks = 64

// named returns how many leading links without a unit belong to a pH or
// salinity named before them rather than to the unit of a later one: "a
// salinity of 35 and 12 h of light".
func (p *page) named(links []link) int {
	n := 0
	for !links[n].has {
		n++
	}
	if u := links[n].unit.kind; n == 0 || n > 1 && u != Temperature && u != Duration {
		return 0
	}
	head, kind := p.measured(links[0].first)
	if head < 0 || kind == links[n].unit.kind || kind == Salinity && links[n].unit.unit == "permille" {
		return 0
	}
	return n
}

// opened reports whether "between" stands before the number at token i.
func (p *page) opened(i int) bool {
	for k := 0; k < 3; k++ {
		if p.before(i, roleBetween) > 0 {
			return true
		}
		n := max(p.before(i, roleFiller), p.before(i, roleApprox))
		if n == 0 {
			return false
		}
		i -= n
	}
	return false
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
		l.half = 0.5
		l.end += n
	}
	l.end = p.deviation(l.end, &l)
	if u, ok := p.unitAfter(l.end, v.value); ok && p.fits(l, u) {
		l.unit, l.has = u, true
		l.end += u.n
		if _, n := p.at(l.end, roleHalf); n > 0 && u.kind == Duration {
			l.half = 0.5
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
	if v.article { // of use in "ein bis 14 Tagen" only
		_, n := p.at(l.end, roleTo)
		return l, n > 0 && p.is(l.end+n, figure)
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
	l.half += c
	return i + v.n + u.n
}

// joint reads what joins a number to the next one, and the token after it.
func (p *page) joint(i int, between bool) (joint, int) {
	if between {
		if _, n := p.at(i, roleAnd); n > 0 {
			return rangeTo, i + n
		}
	}
	if _, n := p.at(i, roleTo); n > 0 {
		if p.key(i) == "-" && p.key(i+1) == "-" && p.glued(i+1) && !p.glued(i+2) {
			n++
		}
		return rangeTo, i + n
	}
	if p.key(i) == "." && p.key(i+1) == "." {
		n := 2
		if p.key(i+2) == "." {
			n = 3
		}
		return rangeTo, i + n
	}
	if p.key(i) == "/" {
		return slash, i + 1
	}
	j, at := start, i
	if p.key(i) == "," {
		j, at = listComma, i+1
	}
	if _, n := p.at(at, roleAnd); n > 0 {
		return listAnd, at + n
	}
	if _, n := p.at(at, roleOr); n > 0 {
		return listOr, at + n
	}
	return j, at
}

// fillers passes over "at", "the", "about" before the next number, and over a
// bound of its own: "below 5 or above 30 °C".
func (p *page) fillers(i int) (int, bound) {
	op := none
	for k := 0; k < 3 && !p.is(i, figure); k++ {
		if _, n := p.at(i, roleNumber); n > 0 {
			break
		}
		if b, n := p.boundAt(i); n > 0 {
			op = b
			i += n
			continue
		}
		_, n := p.at(i, roleApprox)
		if _, m := p.at(i, roleFiller); m > n {
			n = m
		}
		if p.key(i) == "+" {
			n = 1
		}
		if n == 0 || p.is(i, word) && p.numberEnds(i+n) {
			break
		}
		i += n
	}
	return i, op
}

// numberEnds reports whether nothing that could be a number stands at i.
func (p *page) numberEnds(i int) bool { return i >= len(p.toks) || p.toks[i].kind == gap }

// oneUnit cuts the chain after its first stretch of one unit, lends that unit
// to the numbers before it, and drops leading numbers that it cannot belong to.
func (p *page) oneUnit(links []link) []link {
	k := 0
	for !links[k].has {
		k++
	}
	u := links[k].unit
	end := k + 1
	for end < len(links) && p.continues(links, end, u) {
		end++
	}
	for end > k+1 && !links[end-1].has {
		end--
	}
	links = links[:end]
	from := p.leading(links[:k+1])
	if from > 0 {
		return links[:from] // the caller reads on behind these numbers
	}
	return links
}

// continues reports whether links[n] goes on with the quantity that has unit u.
func (p *page) continues(links []link, n int, u unitMatch) bool {
	// A later link without a unit must borrow from one behind it.
	m := n
	for m < len(links) && !links[m].has {
		m++
	}
	if m == len(links) {
		return false
	}
	v := links[m].unit
	if links[n].join != rangeTo && links[n-1].has {
		return false // "34 °C and 38 °C" are two quantities
	}
	if v.unit == u.unit && v.factor == u.factor {
		return true
	}
	return links[n].join == rangeTo && m == n && u.kind == Duration && v.kind == Duration
}

// leading returns how many of the first links do not belong to the unit of the
// last one, which they would borrow.
func (p *page) leading(links []link) int {
	n := len(links) - 1 // borrowers
	if n == 0 {
		return 0
	}
	u := links[n].unit
	conj, commas := false, 0
	for _, l := range links[1:] {
		conj = conj || l.join == listAnd || l.join == listOr || l.join == slash
		if l.join == listComma {
			commas++
		}
	}
	from := n
	if u.kind == Duration && p.before(links[0].first, roleFiller) == 1 {
		if e, m := p.unitAt(links[0].first - 2); m == 1 && kindOf(e.unit) == Duration {
			return 1 // "8 d at 15 and 4 d at 20 °C": the 15 is of another kind
		}
	}
	for k := n; k > 0; k-- {
		if links[k].join == listComma && !conj && commas < 2 {
			break
		}
		if l := links[k-1]; p.yearLike(l, u) || p.labelled(l.first) || l.value.article && u.kind != Duration {
			break
		}
		from = k - 1
	}
	return from
}

// yearLike reports whether a link is a calendar year beside a unit that never
// takes such values.
func (p *page) yearLike(l link, u unitMatch) bool {
	return l.value.n == 1 && p.toks[l.first].plain && l.value.value >= 1600 && l.value.value < 2100 &&
		(u.kind == Duration || u.kind == Temperature || u.kind == Fraction)
}

// labelled reports whether the number at token i is a label ("Table 3", "n = 20").
func (p *page) labelled(i int) bool {
	if p.key(i-1) == "=" {
		return p.is(i-2, word) && len([]rune(p.raw(i-2))) <= 2
	}
	if p.key(i-1) == "." && p.glued(i-1) {
		return p.before(i-1, roleLabel) > 0
	}
	return p.before(i, roleLabel) > 0
}

package quantity

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
		q, next := p.unitless(links)
		if q == nil && len(links) == maxLinks {
			next = links[maxLinks/2].first // no unit within reach of the first half
		}
		return q, next
	}
	if last+1 < len(links) && links[last].value.article && links[last+1].join == listOr && links[last+1].value.value == 2 {
		last++ // a day or two
		links[last].unit, links[last].has = links[last-1].unit, true
		links[last-1].has = false
	}
	if n := p.named(links[:last+1]); n > 0 {
		return p.unitless(links[:n])
	}
	p.bareDegrees(links[:last+1])
	links = p.oneUnit(links[:last+1])
	if !links[len(links)-1].has {
		return p.unitless(links)
	}
	return p.assemble(links)
}

// bareDegrees lets a number with a degree sign alone borrow the scale that a
// later one of the chain names: "46° to 50° F".
func (p *page) bareDegrees(links []link) {
	for k := len(links) - 2; k >= 0; k-- {
		l, next := &links[k], links[k+1]
		if l.has && l.unit.n == 1 && p.key(l.end-1) == "°" && (next.join == rangeTo || next.join == listAnd || next.join == listOr || next.join == listComma) &&
			next.unit.kind == Temperature && !(next.unit.n == 1 && p.key(next.end-1) == "°") {
			l.unit, l.has = unitMatch{}, false
		}
	}
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
		if j == listComma && at > behind && p.is(behind, word) && p.key(behind) != p.key(links[len(links)-1].first-1) {
			break // "in the other two, at 12 °C"
		}
		l, ok := p.link(at, j)
		if ok && p.strangers(links[len(links)-1], l) {
			break
		}
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

// strangers reports whether the word that joins two numbers is of another language
// than one of them that is written as a word: in "the two media and 11 %" media is
// no half.
func (p *page) strangers(a, b link) bool {
	for _, r := range []role{roleAnd, roleOr, roleTo} {
		e, n := p.at(a.end, r)
		if n == 0 || !p.is(a.end, word) {
			continue
		}
		for _, v := range []numeral{a.value, b.value} {
			if v.spelled && v.langs&e.langs == 0 {
				return true
			}
		}
		return false
	}
	return false
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
	return !p.compared(i) && p.led(i, roleBetween)
}

// led reports whether a word of the role stands before the number at token i, with
// no more than fillers between.
func (p *page) led(i int, r role) bool {
	for range 3 {
		if p.before(i, r) > 0 {
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
	if links[n].join != rangeTo && links[n-1].has && !(links[n].has && links[n].op == none && listed(links, n) && !p.compared(links[0].first)) {
		return false
	}
	if v.unit == u.unit && v.factor == u.factor {
		return true
	}
	return links[n].join == rangeTo && m == n && u.kind == Duration && v.kind == Duration
}

// listed reports whether links[n], with a unit of its own, goes on a list:
// "34 °C and 38 °C", "0 ppm, 1000 ppm and 2000 ppm". A comma alone parts two
// statements ("dried 90 days, 0 days cold"), and so does a fall: levels are
// listed as they rise.
func listed(links []link, n int) bool {
	for ; n < len(links) && links[n].has && links[n].value.value > links[n-1].value.value; n++ {
		switch links[n].join {
		case listAnd, listOr:
			return true
		case listComma:
		default:
			return false
		}
	}
	return false
}

// compared reports whether the number at token i is one of two that are told
// apart: "the difference between 34 and 38 °C", "both 34 °C and 38 °C".
func (p *page) compared(i int) bool { return p.led(i, roleCompared) }

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
	if e, m := p.unitAt(links[0].first - 1); u.kind == Duration && m == 1 && kindOf(e.unit) == Duration {
		return 1 // "sixty days 74 and thirty days 13": the 74 are counted in what they led to
	}
	for k := n; k > 0; k-- {
		if links[k].join == listOr && u.unit == Percent && p.key(links[k-1].end) == "," {
			break // "33, or 66 per cent": a count and its share
		}
		if links[k].join == listComma && !conj && commas < 2 {
			break
		}
		if links[k].join != rangeTo && p.parallel(links[k-1], links[n]) {
			break
		}
		if l := links[k-1]; p.yearLike(l, u) || p.labelled(l.first) || l.value.article && u.kind != Duration {
			break
		}
		from = k - 1
	}
	return from
}

// parallel reports whether the share of the last link belongs to what follows
// it rather than to the number of l, which stands behind the same word: "58 %
// after three and 9 % after eleven years".
func (p *page) parallel(l, last link) bool {
	if last.unit.unit != Percent || !p.is(l.first-1, word) || p.key(l.first-1) != p.key(last.end) || p.before(l.first, roleTo) > 0 {
		return false
	}
	_, ok := p.numeralAt(last.end + 1)
	return ok
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

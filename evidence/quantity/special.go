package quantity

import "math"

// unitless reads a chain whose numbers have no unit, where what is measured is
// named before it: "pH 7.2", "a pH of 6.5 to 7", "a salinity of 35".
func (p *page) unitless(links []link) (*Quantity, int) {
	first, end := links[0].first, links[0].end
	head, kind := p.measured(first)
	if head < 0 {
		head, kind = p.shareNamed(first)
	}
	if head < 0 {
		return nil, end
	}
	unit, top := One, 14.0
	switch kind {
	case Salinity:
		unit, top = PSU, 350
	case Fraction:
		unit, top = Percent, 100
	}
	n := 0
	for n < len(links) && links[n].value.value >= 0 && links[n].value.value <= top && !links[n].value.article && !(n > 0 && p.followed(links[n])) {
		n++
	}
	if n == 0 || p.followed(links[0]) && n == 1 {
		return nil, end
	}
	links = links[:n]
	if kind != Acidity && p.countsSomething(links[n-1].end) {
		return nil, end
	}
	links[n-1].unit, links[n-1].has = unitMatch{unit: unit, kind: kind, factor: 1, guessed: kind != Acidity}, true
	q, next := p.assemble(links)
	if q == nil {
		return nil, end
	}
	q.Kind = kind
	if kind == Acidity {
		q.Start = p.toks[head].start
		for k := head; k < first; k++ {
			if p.key(k) == "(" && p.key(next) == ")" {
				q.End = p.toks[next].end
				next++
				break
			}
		}
		q.Text = p.text[q.Start:q.End]
	}
	return q, next
}

// followed reports whether a number is one of something else: a word of no
// role stands right behind it.
func (p *page) followed(l link) bool {
	if l.value.spelled && l.value.value == 1 {
		return true
	}
	return p.key(l.end) == "%" || p.is(l.end, word) && p.glued(l.end)
}

// countsSomething reports whether the word at token i is what a bare number
// counts ("54 cells") rather than one that leads on ("35 and", "35 at").
func (p *page) countsSomething(i int) bool {
	if !p.is(i, word) {
		return false
	}
	for _, r := range []role{roleAnd, roleOr, roleTo, roleFiller, roleConnect, roleGives, roleLowAfter, roleHighAfter, roleApproxAfter, roleInside, roleLowBefore, roleHighBefore, roleHighBeforeNoLight} {
		if _, n := p.at(i, r); n > 0 {
			return false
		}
	}
	return true
}

// measured finds pH or salinity before the number at token i, with nothing but
// connecting words between, and returns its token.
func (p *page) measured(i int) (int, Kind) {
	for k := 0; k < 8 && i > 0; k++ {
		if n := p.before(i, roleMeasurePH); n > 0 {
			return i - n, Acidity
		}
		if n := p.before(i, roleMeasureSalinity); n > 0 {
			return i - n, Salinity
		}
		n := 0
		for _, r := range []role{roleConnect, roleFiller, roleApprox, roleFrom, roleBetween, roleTo, roleLowBefore, roleHighBefore, roleLowBeforeNoTime, roleRangeWord, roleMeasureSalinity} {
			n = max(n, p.before(i, r))
		}
		if n == 0 {
			switch p.key(i - 1) {
			case ",", ":", "(", "=", "-":
				n = 1
			default:
				return -1, ""
			}
		}
		i -= n
	}
	return -1, ""
}

// shareNamed finds a percentage that is named some way before the bare number
// at token i: "the percentage of eggs that hatched came to 74 in one soil".
func (p *page) shareNamed(i int) (int, Kind) {
	if p.before(i, roleGives) == 0 || p.is(i, word) {
		return -1, ""
	}
	for k := i - 1; k > i-24 && k >= 0 && !p.ends(k); k-- {
		if _, n := p.at(k, roleMeasureShare); n > 0 {
			return k, Fraction
		}
	}
	return -1, ""
}

// elided reads the bare number at tokens i to end as a quantity in the unit of
// one before it in the sentence, where the same word stands before both
// ("within 3 days, those of the others within 4") or words that bound it
// ("within 24 hours, often in less than twelve"). It returns nil where the
// number is of something else. firsts are the first tokens of the quantities.
func (p *page) elided(i, end int, before []Quantity, firsts []int) (*Quantity, int) {
	v, ok := p.numeralAt(i)
	next := i + v.n
	if !ok || v.article || !p.is(i-1, word) || p.is(next, word) && !p.joins(next) ||
		p.key(next) == "-" && p.glued(next) || p.key(next) == "/" || p.key(next) == "." && p.glued(next+1) {
		return nil, end
	}
	from, mixed := -1, false
	for k := len(before) - 1; k >= max(0, len(before)-4) && p.sameSentence(firsts[k], i); k-- {
		mixed = mixed || before[k].Kind != before[len(before)-1].Kind
		if p.key(firsts[k]-1) == p.key(i-1) {
			from = k
			break
		}
	}
	same := from >= 0
	b, approx := none, false
	if !same && !mixed && len(before) > 0 && p.sameSentence(firsts[len(firsts)-1], i) && !p.is(next, figure) {
		from = len(before) - 1
	}
	if from < 0 {
		return nil, end
	}
	q := before[from]
	b, approx = p.boundBefore(i, q.Kind)
	if b == none && !(same && q.Kind == Duration && p.before(i, roleArticleAfter) > 0) || !p.canLend(q, i, v) {
		return nil, end
	}
	lo, hi := v.value, v.value
	it := Item{Start: p.toks[i].start, End: p.toks[next-1].end, Low: &lo, High: &hi}
	out := p.make(i, next, q.Kind, q.Unit, []Item{b.apply(it)})
	out.Approx, out.Guessed = approx, true
	return out, next
}

// canLend reports whether q's unit could belong to the number v at token i.
func (p *page) canLend(q Quantity, i int, v numeral) bool {
	switch {
	case q.Implied, q.Kind == Count, q.Kind == Photoperiod, q.Kind == Other, p.toks[i].start-q.End > 250:
		return false
	case q.Kind == Fraction && v.value > 100:
		return false
	}
	return !p.yearLike(link{first: i, value: v}, unitMatch{kind: q.Kind})
}

func (p *page) joins(i int) bool {
	_, n := p.at(i, roleAnd)
	return n > 0
}

func (p *page) sameSentence(from, to int) bool {
	for k := from; k < to; k++ {
		if to-k > 80 || p.ends(k) {
			return false
		}
	}
	return true
}

// clock reads a counted point in time: "day 9", "days 3 and 5", "minute 15".
func (p *page) clock(i int) (*Quantity, int) {
	_, n := p.at(i, roleClock)
	if n == 0 || p.glued(i) && p.is(i-1, figure) {
		return nil, i
	}
	e, m := p.at(i, roleUnit)
	if m != n {
		return nil, i
	}
	if _, ok := p.numeralAt(i - 1); ok && !p.is(i-1, word) {
		return nil, i // "a 5 day 10 °C hold"
	}
	at := i + n
	links := p.links(at)
	if len(links) == 0 || !p.is(at, figure) || links[0].has {
		return nil, i
	}
	k := 0
	for k < len(links) && !links[k].has && links[k].value.value >= 0 && links[k].value.value <= 1000 && p.is(links[k].first, figure) {
		k++
	}
	if k == 0 || k < len(links) && links[k].join == rangeTo {
		return nil, i
	}
	if k < len(links) && k > 0 && links[k].has { // "day 5 and 10 °C"
		k = 1
	}
	links = links[:k]
	links[k-1].unit, links[k-1].has = unitMatch{unit: e.unit, kind: Duration, factor: e.value}, true
	q, next := p.assemble(links)
	if q == nil {
		return nil, i
	}
	q.Ordinal = true
	q.Start = p.toks[i].start
	q.Text = p.text[q.Start:q.End]
	return q, next
}

// ordinal reads "in the 15th minute", "the second week", "8º dia" and "between
// the second and the third day".
func (p *page) ordinal(i int) (*Quantity, int) {
	a, n := p.ordinalAt(i)
	if n == 0 || p.before(i, roleNotOrdinal) > 0 {
		return nil, i
	}
	numEnd, end, b := i+n, i+n, a
	if j, at := p.joint(end, p.opened(i)); j == rangeTo || j == listOr {
		at, _ = p.fillers(at)
		if v, m := p.ordinalAt(at); m > 0 {
			b, end, numEnd = v, at+m, at+m
		}
	}
	e, m := p.unitAt(end)
	_, c := p.at(end, roleClock)
	if c > 0 && p.is(i, word) {
		if o, _ := p.at(i, roleOrdinal); o.langs&e.langs == 0 {
			return nil, i
		}
	}
	if p.key(end-1) == "." {
		_, c = p.at(end, roleClockStop)
	}
	if m == 0 || c != m || kindOf(e.unit) != Duration {
		return nil, i
	}
	if e.unit == "wk" || e.unit == "mo" || e.unit == "yr" { // the second week is day 7 to 14
		a--
	}
	lo, hi := min(a, b)*e.value, max(a, b)*e.value
	q := p.make(i, end+m, Duration, e.unit, []Item{{Start: p.toks[i].start, End: p.toks[numEnd-1].end, Low: &lo, High: &hi}})
	q.Ordinal = true
	return q, end + m
}

// ordinalAt reads an ordinal number at token i and returns its length.
func (p *page) ordinalAt(i int) (v float64, n int) {
	if e, m := p.at(i, roleOrdinal); m > 0 {
		return e.value, m
	}
	if !p.is(i, figure) || !p.toks[i].plain || p.toks[i].value <= 0 || p.toks[i].value > 1000 {
		return 0, 0
	}
	if _, m := p.at(i+1, roleOrdinalSuffix); m > 0 && p.glued(i+1) {
		return p.toks[i].value, 1 + m
	}
	if k := p.key(i + 1); p.glued(i+1) && (k == "°" || k == "." || k == "ª") {
		return p.toks[i].value, 2
	}
	return 0, 0
}

// counts reads "23 of 40 eggs" and "12/50 hatched".
func (p *page) counts(i int) (*Quantity, int) {
	a, ok := p.numeralAt(i)
	if !ok || a.article || a.value != math.Trunc(a.value) || a.value < 0 || a.value > 1e6 {
		return nil, i
	}
	at := i + a.n
	n := 0
	if p.key(at) == "/" {
		n = 1
	} else if _, m := p.at(at, roleOfCounts); m > 0 {
		n = m
	}
	if n == 0 {
		return nil, i
	}
	b, ok := p.numeralAt(at + n)
	if !ok || b.article || b.value != math.Trunc(b.value) || b.value < a.value || b.value <= 0 || b.value > 1e6 {
		return nil, i
	}
	end := at + n + b.n
	e, m := p.unitAt(end)
	if m == 0 {
		if e, m = p.unitAt(end + 1); m > 0 && !p.is(end, word) {
			m = 0
		}
	}
	_, h := p.at(end, roleHatched)
	if !(m > 0 && (e.unit == Eggs || e.unit == Larvae)) && h == 0 {
		return nil, i
	}
	v := 100 * a.value / b.value
	lo, hi := v, v
	q := p.make(i, end, Fraction, Percent, []Item{{Start: p.toks[i].start, End: p.toks[end-1].end, Low: &lo, High: &hi}})
	q.Of = &Counts{Part: int(a.value), Whole: int(b.value)}
	return q, end
}

// implied reads words that hide a number.
func (p *page) implied(i int) (*Quantity, int) {
	e, n := p.at(i, roleImplied)
	if n == 0 {
		return nil, i
	}
	v := e.implied
	it := Item{Start: p.toks[i].start, End: p.toks[i+n-1].end, Low: copied(v.low), High: copied(v.high)}
	q := p.make(i, i+n, v.kind, v.unit, []Item{it})
	q.Implied = true
	q.Approx = true
	return q, i + n
}

func copied(v *float64) *float64 {
	if v == nil {
		return nil
	}
	c := *v
	return &c
}

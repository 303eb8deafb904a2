package quantity

import "math"

// assemble makes one quantity of links that share the unit of the last one.
// Links that cannot borrow it have been cut off; when none is left with a unit
// the numbers are passed over.
func (p *page) assemble(links []link) (*Quantity, int) {
	n := len(links)
	end := links[n-1].end
	u := links[n-1].unit
	if !links[n-1].has {
		return nil, end
	}
	kind := p.kind(links, u)
	b, approx := p.boundBefore(links[0].first, kind)
	if b == none {
		_, n := p.at(end, roleADay)
		if b = p.boundAfter(end + n); b == none {
			b = p.boundAfter(p.behindSubstance(end))
		}
	}
	items := p.items(links, u, kind, b)
	q := p.make(links[0].first, end, kind, u.unit, items)
	if kind == Oxygen && u.unit == Percent {
		q.Unit = PctSat
	}
	q.Approx = approx
	q.Guessed = u.guessed || links[n-1].doubtful
	if _, m := p.at(end, roleApproxAfter); m > 0 {
		q.Approx = true
	}
	if kind == Temperature {
		q.Difference = p.step(links[0].first, end)
	}
	q.Each = len(items) > 1 && (inTurn(links) || p.each(end) || p.compared(links[0].first))
	p.saltPerLitre(q, end)
	return q, end
}

// behindSubstance passes "of oxygen" or "of salt" at token i.
func (p *page) behindSubstance(i int) int {
	if p.key(i) != "of" {
		return i
	}
	for _, r := range []role{roleOxygen, roleSalinity} {
		if _, n := p.at(i+1, r); n > 0 {
			return i + 1 + n
		}
	}
	return i
}

// inTurn reports whether the values follow one another: "from 5 to 10 to 20".
func inTurn(links []link) bool {
	for _, l := range links[1:] {
		if l.join != rangeTo {
			return false
		}
	}
	return len(links) > 2
}

// each reports whether "respectively" follows soon in the sentence.
func (p *page) each(i int) bool {
	for k := i; k < i+40 && k < len(p.toks) && !p.ends(k); k++ {
		if _, n := p.at(k, roleEach); n > 0 {
			return true
		}
	}
	return false
}

// items makes the items of links, each bounded by b or by the last words of its
// own before it.
func (p *page) items(links []link, u unitMatch, kind Kind, b bound) []Item {
	n := len(links)
	if n == 2 && b == low && links[1].op == high && links[0].value.value < links[1].value.value {
		return []Item{span(p.item(links[0], u), p.item(links[1], u))} // "> 25 and < 30 °C"
	}
	var items []Item
	for k := 0; k < n; k++ {
		if links[k].op != none {
			b = links[k].op
		}
		it := p.item(links[k], u)
		if k+1 < n && links[k+1].op == none && p.isRange(links, k, kind, b) {
			it = span(it, p.item(links[k+1], u))
			k++
		}
		items = append(items, b.apply(it))
	}
	return items
}

// item makes an item of one link, in unit u.
func (p *page) item(l link, u unitMatch) Item {
	v := l.value.value + l.extra
	if l.has {
		v *= l.unit.factor
		if l.unit.unit != u.unit {
			if c, err := Convert(v, l.unit.unit, u.unit); err == nil {
				v = c
			}
		}
	} else {
		v *= u.factor
	}
	low, high := v, v
	it := Item{Start: p.toks[l.first].start, End: p.toks[l.first+l.num-1].end, Low: &low, High: &high}
	if u.kind == Temperature && l.minus > 0 {
		low, high = -v, -v
		it.Start = p.toks[l.first-l.minus].start
	}
	if l.spread != nil {
		s := *l.spread * u.factor
		it.Spread = &s
	}
	return it
}

// span joins two items to a range. "−10 to −20" is turned round.
func span(a, b Item) Item {
	low, high := *a.Low, *b.High
	it := Item{Start: a.Start, End: b.End, Low: &low, High: &high, Spread: b.Spread}
	if low > high {
		it.Low, it.High = &high, &low
	}
	return it
}

// isRange reports whether links k and k+1 are the ends of one range.
func (p *page) isRange(links []link, k int, kind Kind, b bound) bool {
	a, c := links[k], links[k+1]
	switch c.join {
	case rangeTo: // but "from 5 to 10 to 20" is a list
		return (k+2 >= len(links) || links[k+2].join != rangeTo) && (k == 0 || a.join != rangeTo)
	case slash:
		return kind == Duration && a.value.value < c.value.value
	case listOr:
		if len(links) != 2 {
			return false
		}
		step := c.value.value - a.value.value
		return step > 0 && (b != none || (kind == Duration && step <= 1 && a.value.value == math.Trunc(a.value.value)))
	}
	return false
}

// saltPerLitre makes a concentration of "30 g of pure salt per litre".
func (p *page) saltPerLitre(q *Quantity, end int) {
	if q.Unit != "g" && q.Unit != "mg" {
		return
	}
	salt := false
	for i := end; i < end+12 && i < len(p.toks) && !p.ends(i); i++ {
		if _, n := p.at(i, roleSalinity); n > 0 {
			salt = true
		}
		_, n := p.at(i, rolePer)
		v, one := p.numeralAt(i + n)
		if _, m := p.at(i, roleFiller); n == 0 && m > 0 { // "in one litre"
			n = m
			v, one = p.numeralAt(i + n)
			one = one && v.value == 1
			if !one {
				continue
			}
		}
		if n == 0 {
			continue
		}
		if one && v.value == 1 {
			n += v.n
		}
		if e, m := p.unitAt(i + n); m > 0 && e.unit == "L" && (salt || i == end || p.cueNear(end-1, roleSalinity, 12)) {
			q.Unit += "/L"
			q.Kind = Salinity
			q.Guessed = true
			return
		}
	}
}

// kind decides what a unit measures here.
func (p *page) kind(links []link, u unitMatch) Kind {
	first, last := links[0].first, links[len(links)-1].end-1
	switch u.unit {
	case Percent:
		return p.percentKind(first, last)
	case MgL, "ug/L", "ppm", "permille", "g/kg", "mg/mL":
		ox, salt := p.cueDistance(first, last, roleOxygen, 30), p.cueDistance(first, last, roleSalinity, 30)
		if u.unit == "permille" && salt < 0 && p.cueDistance(first, last, roleHatch, 3) < 0 {
			return Salinity // nobody counts eggs by the thousand
		}
		switch {
		case links[0].value.value < 0 || (ox < 0 && salt < 0):
			return u.kind
		case u.unit == "permille" || u.unit == "g/kg":
			if salt >= 0 {
				return Salinity
			}
		case ox >= 0 && (salt < 0 || ox <= salt):
			return Oxygen
		default:
			return Salinity
		}
	case Hour:
		if p.ofLight(last+1) || p.cycleBefore(first) {
			return Photoperiod
		}
		if _, n := p.at(last+1, roleADay); n > 0 && p.cueNear(first, roleLight, 8) {
			return Photoperiod
		}
	case "mL/L":
		if p.cueNear(first, roleOxygen, 20) {
			return Oxygen
		}
	case GramL:
		if p.key(last+1) == "of" && p.cueNear(last, roleHatch, 3) {
			return Other // grams of cysts a litre
		}
	}
	return u.kind
}

// percentKind tells shares of things counted from saturation with oxygen and
// from salt by weight.
func (p *page) percentKind(first, last int) Kind {
	if d := p.cueDistance(first, last, roleSaturation, 6); d >= 0 && p.cueDistance(first, last, roleOxygen, 24) >= 0 {
		if h := p.cueDistance(first, last, roleHatch, 3); h < 0 || h > d {
			return Oxygen
		}
	}
	if p.saltShare(first, last) {
		return Salinity
	}
	return Fraction
}

// saltShare reports whether a percentage is one of salt: salt or salinity is
// named beside it with nothing but words between, no eggs are, and no salt in
// units of its own follows ("at that salinity 35 % at 2 g/L"). Water holds
// about 36 % of common salt at most.
func (p *page) saltShare(first, last int) bool {
	const near, saturated = 3, 36
	if p.toks[first].value > saturated || p.cueDistance(first, last, roleHatch, near) >= 0 {
		return false
	}
	for k := last + 1; k <= last+6 && k < len(p.toks) && !p.ends(k); k++ {
		if e, n := p.unitAt(k); n > 0 && p.is(k-1, figure) && (kindOf(e.unit) == Salinity || e.unit == "g") {
			return false
		}
	}
	for k := first - 1; k >= 0 && k >= first-near && !p.ends(k) && (p.is(k, word) || p.key(k) == "(" || p.key(k) == ":" || p.key(k) == "=" || p.key(k) == "-"); k-- {
		if _, n := p.at(k, roleSalinity); n > 0 {
			return true
		}
	}
	for k := last + 1; k < len(p.toks) && k <= last+near && !p.ends(k) && (p.is(k, word) || p.key(k) == "-"); k++ {
		if _, n := p.at(k, roleSalinity); n > 0 {
			return true
		}
	}
	_, n := p.at(last, roleSalinity)
	return n > 0
}

// ofLight reports whether "light" or "of light" stands at token i.
func (p *page) ofLight(i int) bool {
	if p.key(i) == "-" {
		i++
	}
	if _, n := p.at(i, roleOfLight); n > 0 {
		i += n
	}
	_, n := p.at(i, roleLight)
	return n > 0 && !(p.is(i+n, mark) && p.key(i+n) == "-")
}

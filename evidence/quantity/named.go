package quantity

// unitless reads a chain whose numbers have no unit, where what is measured is
// named before it: "pH 7.2", "a pH of 6.5 to 7", "a salinity of 35".
func (p *page) unitless(links []link) (*Quantity, int) {
	first, end := links[0].first, links[0].end
	head, kind := p.measured(first)
	if head < 0 && len(links) > 1 {
		head, kind = p.acidityAhead(first)
	}
	if head < 0 {
		head, kind = p.shareNamed(first)
	}
	if head < 0 && proportions(links) && p.ofEggs(links[len(links)-1].end) {
		head, kind = first, Fraction // "0.38 of the cysts"
	}
	if head < 0 {
		return nil, end
	}
	unit, top, factor := One, 14.0, 1.0
	switch kind {
	case Salinity:
		unit, top = PSU, 350
	case Fraction:
		unit, top = Percent, 100
		if proportions(links) {
			factor, top = 100, 1
		} else if _, n := p.at(head, roleMeasureProportion); n > 0 {
			return nil, end
		}
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
	links[n-1].unit, links[n-1].has = unitMatch{unit: unit, kind: kind, factor: factor, guessed: kind != Acidity}, true
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

// acidityAhead finds pH some way before the range that begins at token i, with
// no figure between: "pH had no effect between 5.5 and 8".
func (p *page) acidityAhead(i int) (int, Kind) {
	if p.before(i, roleBetween) == 0 {
		return -1, ""
	}
	for k := i; k > i-12 && k > 0 && !p.is(k-1, figure) && !p.ends(k-1); k-- {
		if n := p.before(k, roleMeasurePH); n > 0 {
			return k - n, Acidity
		}
	}
	return -1, ""
}

// ofEggs reports whether "of the eggs" or the like stands at token i.
func (p *page) ofEggs(i int) bool {
	_, n := p.at(i, roleOfCounts)
	return n > 0 && p.cueNear(i+n-1, roleHatch, 3)
}

// proportions reports whether the numbers are parts of 1 rather than of 100:
// none is above 1, and a decimal is among them.
func proportions(links []link) bool {
	decimal := false
	for _, l := range links {
		v := l.value.value
		if v < 0 || v > 1 {
			return false
		}
		decimal = decimal || v > 0 && v < 1
	}
	return decimal
}

// shareNamed finds a percentage or proportion that is named some way before the
// bare number at token i: "the percentage of eggs that hatched came to 74 in one
// soil", "the proportion hatching fell from 0.71 to 0.22".
func (p *page) shareNamed(i int) (int, Kind) {
	if p.is(i, word) {
		return -1, ""
	}
	far := 24
	switch p.key(i - 1) {
	case ":", "(":
		far = 6
	default:
		if p.before(i, roleGives) == 0 {
			return -1, ""
		}
	}
	for k := i - 1; k > i-far && k >= 0 && !p.ends(k); k-- {
		for _, r := range []role{roleMeasureShare, roleMeasureProportion} {
			if _, n := p.at(k, r); n > 0 {
				return k, Fraction
			}
		}
	}
	return -1, ""
}

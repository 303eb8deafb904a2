package quantity

import "math"

// counts reads "23 of 40 eggs" and "12/50 hatched".
func (p *page) counts(i int) (*Quantity, int) {
	a, ok := p.numeralAt(i)
	if _, n := p.at(i, roleNil); !ok && n > 0 {
		a, ok = numeral{n: n}, true
	}
	if !ok || a.article || a.value != math.Trunc(a.value) || a.value < 0 || a.value > 1e6 {
		return nil, i
	}
	at := i + a.n
	n := 0
	if p.key(at) == "/" && p.is(i, figure) {
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
	if !(m > 0 && (e.unit == Eggs || e.unit == Larvae)) && h == 0 && !p.bareCount(i, end, b.value) {
		return nil, i
	}
	v := 100 * a.value / b.value
	lo, hi := v, v
	q := p.make(i, end, Fraction, Percent, []Item{{Start: p.toks[i].start, End: p.toks[end-1].end, Low: &lo, High: &hi}})
	q.Of = &Counts{Part: int(a.value), Whole: int(b.value)}
	return q, end
}

// bareCount reports whether "283 of 400" at tokens i to end, with no noun behind
// it, counts the eggs that the sentence speaks of: "none of 400 eggs hatched in
// the dark, against 283 of 400 under the lamp".
func (p *page) bareCount(i, end int, whole float64) bool {
	const few, near = 20, 24 // fewer are dishes as soon as eggs
	return whole >= few && p.is(i, figure) && p.before(i, roleFiller) == 0 && !p.countsSomething(end) && p.cueNear(i, roleHatch, near)
}

// parts reads a share told in words: "a tenth of the eggs", "four fifths
// hatched". A loose "a third" or "half" is no figure.
func (p *page) parts(i int) (*Quantity, int) {
	a, ok := p.numeralAt(i)
	if !ok || !a.spelled || a.value != math.Trunc(a.value) || a.value < 1 {
		return nil, i
	}
	at := i + a.n
	if p.key(at) == "-" && p.glued(at) {
		at++
	}
	d, n := p.at(at, roleDenominator)
	if n == 0 || a.value >= d.value || a.langs&d.langs == 0 {
		return nil, i
	}
	end := at + n
	_, of := p.at(end, roleOfCounts)
	if _, h := p.at(end, roleHatched); h == 0 && (of == 0 || !p.cueNear(end, roleHatch, 4)) {
		return nil, i
	}
	v := 100 * a.value / d.value
	lo, hi := v, v
	return p.make(i, end, Fraction, Percent, []Item{{Start: p.toks[i].start, End: p.toks[end-1].end, Low: &lo, High: &hi}}), end
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

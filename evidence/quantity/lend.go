package quantity

import "slices"

// elided reads the bare number at tokens i to end as a quantity in the unit of
// one before it in the sentence, where the same word stands before both
// ("within 3 days, those of the others within 4") or words that bound it
// ("within 24 hours, often in less than twelve", "at pH 4.6 (24 %), at 5.4
// (46 %)"). It returns nil where the
// number is of something else. firsts are the first tokens of the quantities.
func (p *page) elided(i, end int, before []Quantity, firsts []int) (*Quantity, int) {
	v, ok := p.numeralAt(i)
	next := i + v.n
	if !ok || v.article || !p.is(i-1, word) || p.is(next, word) && !p.joins(next) && !p.bounded(next) ||
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
	if !same && !mixed && len(before) > 0 && p.sameSentence(firsts[len(firsts)-1], i) && !p.is(next, figure) {
		from = len(before) - 1
	}
	if from < 0 {
		return nil, end
	}
	q := before[from]
	b, approx := p.boundBefore(i, q.Kind)
	if _, n := p.at(next, roleLowAfter); b == none && n > 0 && q.Kind == Duration {
		b = p.boundAfter(next) // "no hatch before 60 days, and recommended 90 or more"
	}
	alike := same && (q.Kind == Duration && p.before(i, roleArticleAfter) > 0 || q.Kind == Acidity && v.value <= 14 && p.is(i, figure))
	if b == none && !alike || !p.canLend(q, i, v) {
		return nil, end
	}
	lo, hi := v.value, v.value
	it := Item{Start: p.toks[i].start, End: p.toks[next-1].end, Low: &lo, High: &hi}
	out := p.make(i, next, q.Kind, q.Unit, []Item{b.apply(it)})
	out.Approx, out.Guessed = approx, true
	return out, next
}

// ordinalElided reads an ordinal without its unit as a point in time, where one
// with a unit stands before it in the sentence: "the first on the fourth day and
// the last on the ninth".
func (p *page) ordinalElided(i int, before []Quantity, firsts []int) (*Quantity, int) {
	v, n := p.ordinalAt(i)
	if n == 0 || len(before) == 0 || p.before(i, roleFiller) == 0 && p.before(i, roleTo) == 0 {
		return nil, i
	}
	if next := i + n; p.is(next, figure) || p.is(next, word) && !p.leadsOn(next) {
		return nil, i
	}
	last := before[len(before)-1]
	for k := len(before) - 1; k >= 0 && !last.Ordinal; k-- {
		last = before[k]
	}
	if !last.Ordinal || !p.sameSentence(firsts[len(firsts)-1], i) || p.toks[i].start-last.End > 120 {
		return nil, i
	}
	lo, hi := v, v
	q := p.make(i, i+n, Duration, last.Unit, []Item{{Start: p.toks[i].start, End: p.toks[i+n-1].end, Low: &lo, High: &hi}})
	q.Ordinal, q.Guessed = true, true
	return q, i + n
}

// leadsOn reports whether the word at token i only joins or leads to what
// follows.
func (p *page) leadsOn(i int) bool {
	for _, r := range []role{roleAnd, roleOr, roleTo, roleFiller} {
		if _, n := p.at(i, r); n > 0 {
			return true
		}
	}
	return false
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

// bounded reports whether "or more" stands at token i.
func (p *page) bounded(i int) bool {
	_, n := p.at(i, roleLowAfter)
	return n > 0
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

// waits reports whether the bare number at token i may take the unit of a
// temperature or a time further on: "12 d at 10, 7 d at 15 and 4 d at 20 °C",
// "after three and ... after eleven years".
func (p *page) waits(i int) bool {
	v, ok := p.numeralAt(i)
	if !ok || v.article || !p.is(i-1, word) || p.before(i, roleFiller) == 0 && p.before(i, roleTimeLead) == 0 {
		return false
	}
	return p.key(i+v.n) == "," || p.joins(i+v.n)
}

// othersWait returns the waiting numbers that stand behind another word than the
// quantity at token i, which was not theirs.
func (p *page) othersWait(waiting []int, i int) []int {
	return slices.DeleteFunc(waiting, func(w int) bool { return p.key(w-1) == p.key(i-1) })
}

// lendBack gives the unit of the single temperature or duration q, at token i, to the
// numbers that wait for one in the same sentence behind the same word.
func (p *page) lendBack(out []Quantity, firsts, waiting []int, q *Quantity, i int) ([]Quantity, []int) {
	if len(q.Items) != 1 {
		return out, firsts
	}
	for _, w := range waiting {
		if p.key(w-1) != p.key(i-1) || p.key(w-1) == "of" || !p.sameSentence(w, i) || q.Kind == Duration && p.before(w, roleTimeLead) == 0 {
			continue
		}
		v, _ := p.numeralAt(w)
		lo, hi := v.value, v.value
		lent := p.make(w, w+v.n, q.Kind, q.Unit, []Item{{Start: p.toks[w].start, End: p.toks[w+v.n-1].end, Low: &lo, High: &hi}})
		lent.Guessed = true
		at, taken := slices.BinarySearch(firsts, w)
		if taken || at > 0 && out[at-1].End > lent.Start {
			continue
		}
		out = slices.Insert(out, at, *lent)
		firsts = slices.Insert(firsts, at, w)
	}
	return out, firsts
}

// rangeBehind reads the range in brackets at token i, behind a mean and in its
// unit: "27.6 °C (range 23.8–33.9)". Without the word the range must hold the
// mean, since numbers in brackets may be citations.
func (p *page) rangeBehind(q *Quantity, i int) (*Quantity, int) {
	if p.key(i) != "(" || q.Implied || q.Ordinal || q.Kind == Photoperiod || len(q.Items) != 1 {
		return nil, i
	}
	k := i + 1
	_, named := p.at(k, roleRangeWord)
	k += named
	if p.key(k) == ":" {
		k++
	}
	a, b := k, k+2
	if !p.is(a, figure) || !p.is(b, figure) || p.key(b+1) != ")" {
		return nil, i
	}
	lo, hi := p.toks[a].value, p.toks[b].value
	if j, at := p.joint(a+1, false); j != rangeTo || at != b || !(lo < hi) {
		return nil, i
	}
	if mean := q.Items[0].Low; named == 0 && (mean == nil || *mean < lo || *mean > hi) {
		return nil, i
	}
	r := p.make(a, b+1, q.Kind, q.Unit, []Item{{Start: p.toks[a].start, End: p.toks[b].end, Low: &lo, High: &hi}})
	r.Guessed = true
	return r, b + 2
}

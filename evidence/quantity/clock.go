package quantity

import "math"

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
	if to, end := p.clockRange(i, n, next, q); end > next {
		q.Items[0] = span(q.Items[0], to)
		q.End, next = to.End, end
	}
	q.Text = p.text[q.Start:q.End]
	return q, next
}

// clockRange reads the end of "day 3 to day 8" behind q, whose unit stands in n
// tokens at token i.
func (p *page) clockRange(i, n, next int, q *Quantity) (Item, int) {
	if len(q.Items) != 1 || q.Items[0].Low == nil || q.Items[0].High == nil {
		return Item{}, next
	}
	j, at := p.joint(next, p.opened(i))
	v := at + n
	if j != rangeTo || p.key(at) != p.key(i) || !p.is(v, figure) || math.IsNaN(p.toks[v].value) {
		return Item{}, next
	}
	if _, ok := p.unitAfter(v+1, p.toks[v].value); ok {
		return Item{}, next
	}
	lo, hi := p.toks[v].value, p.toks[v].value
	return Item{Start: p.toks[v].start, End: p.toks[v].end, Low: &lo, High: &hi}, v + 1
}

// ordinal reads "in the 15th minute", "the second week", "8º dia", "between the
// second and the third day" and "on the 3rd and 5th day".
func (p *page) ordinal(i int) (*Quantity, int) {
	v, n := p.ordinalAt(i)
	if n == 0 || p.before(i, roleNotOrdinal) > 0 {
		return nil, i
	}
	between := p.opened(i)
	vals, spans, joins := []float64{v}, [][2]int{{i, i + n}}, []joint{start}
	end := i + n
	for len(vals) < maxLinks {
		j, at := p.joint(end, between)
		if j == start {
			break
		}
		at, _ = p.fillers(at)
		v, m := p.ordinalAt(at)
		if m == 0 {
			break
		}
		end = at + m
		vals, spans, joins = append(vals, v), append(spans, [2]int{at, end}), append(joins, j)
	}
	e, m := p.clockUnit(i, end)
	if m == 0 {
		return nil, i
	}
	var items []Item
	for k, v := range vals {
		lo, hi := v, v
		if e.unit == "wk" || e.unit == "mo" || e.unit == "yr" { // the second week is day 7 to 14
			lo--
		}
		lo, hi = lo*e.value, hi*e.value
		it := Item{Start: p.toks[spans[k][0]].start, End: p.toks[spans[k][1]-1].end, Low: &lo, High: &hi}
		if joins[k] == rangeTo || joins[k] == listOr {
			it = span(items[len(items)-1], it)
			items = items[:len(items)-1]
		}
		items = append(items, it)
	}
	q := p.make(i, end+m, Duration, e.unit, items)
	q.Ordinal = true
	return q, end + m
}

// clockUnit reads the counted unit at token end, behind ordinals that begin at
// token i and are of its language.
func (p *page) clockUnit(i, end int) (entry, int) {
	e, m := p.unitAt(end)
	r := roleClock
	if p.key(end-1) == "." {
		r = roleClockStop
	}
	if _, c := p.at(end, r); m == 0 || c != m || kindOf(e.unit) != Duration {
		return entry{}, 0
	}
	if o, n := p.at(i, roleOrdinal); n > 0 && o.langs&e.langs == 0 {
		return entry{}, 0
	}
	return e, m
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

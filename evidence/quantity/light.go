package quantity

import (
	"math"
	"strconv"
)

// lightCycle reads hours of light and dark: "16:8", "LD 12:12", "16L:8D",
// "12 h light : 12 h dark", "12 hours of light to 12 hours of dark",
// "14 h/10 h light/dark". Its two items are light and dark.
func (p *page) lightCycle(i int) (*Quantity, int) {
	if !p.is(i, figure) && !p.is(i, word) {
		return nil, i
	}
	a, ok := p.hours(i, roleLight)
	if !ok {
		return nil, i
	}
	sep := 0
	strong := p.key(a.end) == ":" || p.key(a.end) == "/"
	if strong || p.key(a.end) == "-" || p.key(a.end) == "," || p.key(a.end) == "+" {
		sep = 1
	} else if _, n := p.at(a.end, roleTo); n > 0 {
		sep = n
	} else if _, n := p.at(a.end, roleAnd); n > 0 {
		sep = n
	}
	b, ok := p.hours(a.end+sep, roleDark)
	if !ok || sep == 0 && !(a.named && b.named && p.glued(a.end)) || a.value+b.value <= 0 || a.value+b.value > 48 {
		return nil, i
	}
	end := b.end
	day := math.Abs(a.value+b.value-24) < 0.01
	switch {
	case a.named && b.named:
	case strong && day && p.lettered(i, end):
	case strong && day && p.cueNear(end-1, roleCycle, 12):
	case strong && p.cycleBefore(i):
	default:
		return nil, i
	}
	light, light2, dark, dark2 := a.value, a.value, b.value, b.value
	q := p.make(i, end, Photoperiod, Hour, []Item{
		{Start: p.toks[a.first].start, End: p.toks[a.first+a.num-1].end, Low: &light, High: &light2},
		{Start: p.toks[b.first].start, End: p.toks[b.first+b.num-1].end, Low: &dark, High: &dark2},
	})
	return q, end
}

// stretch is one of the two parts of a cycle.
type stretch struct {
	first, num, end int
	value           float64
	named           bool // light or dark stands behind it
}

// hours reads a number of hours and the word of role r behind it, if any.
func (p *page) hours(i int, r role) (stretch, bool) {
	lead := 0
	if _, n := p.at(i, r); n > 0 && p.glued(i+n) && p.is(i+n, figure) { // L16
		lead = n
	}
	v, ok := p.numeralAt(i + lead)
	if !ok || v.article || v.value < 0 || v.value > 24 {
		return stretch{}, false
	}
	i += lead
	s := stretch{first: i, num: v.n, end: i + v.n, value: v.value, named: lead > 0}
	if p.key(s.end) == "-" && p.glued(s.end) {
		if e, n := p.unitAt(s.end + 1); n > 0 && e.unit == Hour {
			s.end += 1 + n
		}
	} else if e, n := p.unitAt(s.end); n > 0 && e.unit == Hour {
		s.end += n
	}
	k := s.end
	if p.key(k) == "-" || p.key(k) == "(" {
		k++
	}
	if _, n := p.at(k, roleOfLight); n > 0 {
		k += n
	}
	if _, n := p.at(k, r); n > 0 {
		s.end = k + n
		s.named = true
	}
	return s, true
}

// lettered reports whether L and D stand beside a cycle: "16:8 (L:D)", "L/D 16:8 h".
func (p *page) lettered(first, end int) bool {
	if _, n := p.at(end, roleLight); n > 0 || p.key(end) == "(" {
		if _, m := p.at(end+1-min(n, 1), roleLight); m > 0 {
			return true
		}
	}
	return p.cycleBefore(first) || p.lightAround(end)
}

// cycleBefore reports whether "LD", "L:D" or "photoperiod of" stands before
// token i.
func (p *page) cycleBefore(i int) bool {
	for k := 0; k < 3 && i > 0; k++ {
		if p.before(i, roleCycle) > 0 || p.before(i, roleDark) > 0 && p.is(i-2, mark) && p.before(i-2, roleLight) > 0 {
			return true
		}
		n := max(p.before(i, roleConnect), p.before(i, roleFiller))
		if n == 0 && (p.key(i-1) == ":" || p.key(i-1) == "=" || p.key(i-1) == "(") {
			n = 1
		}
		if n == 0 {
			return false
		}
		i -= n
	}
	return false
}

// lightAround reports whether light is named within a few tokens after end.
func (p *page) lightAround(end int) bool {
	for k := end; k < end+3 && k < len(p.toks); k++ {
		if _, n := p.at(k, roleLight); n > 0 {
			return true
		}
	}
	return false
}

// Regime is a photoperiod in a word: hours of light to hours of dark ("14:10"),
// "continuous", "dark", or "photoperiod-cycle" where the hours are a range; ""
// for what has no hours.
func (q *Quantity) Regime() string {
	if len(q.Items) == 0 || q.Items[0].Low == nil && q.Items[0].High == nil {
		return ""
	}
	hours := func(v *float64) string { return strconv.FormatFloat(*v, 'g', -1, 64) }
	light := q.Items[0].Low
	if high := q.Items[0].High; len(q.Items) == 1 && light != nil && high != nil && *high > *light {
		return "photoperiod-cycle"
	}
	if light == nil {
		light = q.Items[0].High
	}
	if *light >= 24 {
		return "continuous"
	}
	if *light == 0 {
		return "dark"
	}
	dark := 24 - *light
	if len(q.Items) > 1 && q.Items[1].Low != nil {
		dark = *q.Items[1].Low
	}
	return hours(light) + ":" + hours(&dark)
}

package value

import (
	"cmp"
	"math"

	"hatchlore/evidence"
)

// Span is the range of a claim or of several; an open end is infinite.
type Span struct{ Low, High float64 }

// SpanOf returns the span of a claim; one without a number is open at both ends.
func SpanOf(c evidence.Claim) Span {
	s := Span{math.Inf(-1), math.Inf(1)}
	if c.Low != nil {
		s.Low = *c.Low
	}
	if c.High != nil {
		s.High = *c.High
	}
	return s
}

// HasNumber reports whether a claim has one.
func HasNumber(c evidence.Claim) bool { return c.Low != nil || c.High != nil }

// Join is the span that reaches over both.
func (s Span) Join(t Span) Span { return Span{min(s.Low, t.Low), max(s.High, t.High)} }

// Meet is the span that both hold; its low end lies above its high one where they
// hold none.
func (s Span) Meet(t Span) Span { return Span{max(s.Low, t.Low), min(s.High, t.High)} }

// Point reports whether a span is one number.
func (s Span) Point() bool { return s.Low == s.High }

// Ends returns the span as a claim has it, nil where open.
func (s Span) Ends() (low, high *float64) {
	if !math.IsInf(s.Low, 0) {
		low = &s.Low
	}
	if !math.IsInf(s.High, 0) {
		high = &s.High
	}
	return low, high
}

// Printed is the span of the numbers that spans print, whatever lies open.
func Printed(spans []Span) Span {
	whole := Span{math.Inf(1), math.Inf(-1)}
	for _, s := range spans {
		low, high := s.Ends()
		for _, v := range []*float64{low, high} {
			if v != nil {
				whole = Span{min(whole.Low, *v), max(whole.High, *v)}
			}
		}
	}
	return whole
}

// Reach is from where to where spans go together. An end is open where one of them
// is open, unless another prints a number beyond: "up to 25 °C" beside "4 °C" says
// nothing of what is colder.
func Reach(spans []Span) Span {
	whole := Span{math.Inf(1), math.Inf(-1)}
	least, most := math.Inf(1), math.Inf(-1) // ends of those that are closed there
	for _, s := range spans {
		whole = whole.Join(s)
		if !math.IsInf(s.Low, -1) {
			least = min(least, s.Low)
		}
		if !math.IsInf(s.High, 1) {
			most = max(most, s.High)
		}
	}
	beyond := func(open func(Span) bool, past func(Span) bool) bool {
		for _, s := range spans {
			if open(s) && !past(s) {
				return false
			}
		}
		return true
	}
	if beyond(func(s Span) bool { return math.IsInf(s.Low, -1) }, func(s Span) bool { return least < s.High }) {
		whole.Low = least
	}
	if beyond(func(s Span) bool { return math.IsInf(s.High, 1) }, func(s Span) bool { return most > s.Low }) {
		whole.High = most
	}
	return whole
}

// Middle is the middle of a span, or its end where the other is open; 0 where
// both are.
func (s Span) Middle() float64 {
	low, high := s.Ends()
	switch {
	case low == nil && high == nil:
		return 0
	case low == nil:
		return *high
	case high == nil:
		return *low
	}
	return (*low + *high) / 2
}

// Compare orders spans by their low ends, then by their high ones.
func Compare(a, b Span) int {
	return cmp.Or(cmp.Compare(a.Low, b.Low), cmp.Compare(a.High, b.High))
}

// Slack is how near two values of a factor may be and still be the same:
// rounding, and months of 30 against four weeks of 28 days. Relative for
// lengths and concentrations, absolute elsewhere. Our own judgement, no source.
func Slack(f evidence.Factor, v float64) float64 {
	switch f {
	case evidence.WarmTemperature, evidence.ColdTemperature, evidence.Freezing:
		return 1
	case evidence.PH:
		return 0.2
	case evidence.Light:
		return 1
	}
	return 0.1 * math.Abs(v)
}

// Exact is how far two printings of one value may differ by conversion alone.
func Exact(f evidence.Factor, v float64) float64 { return Slack(f, v) / 4 }

// Meet reports whether two spans touch, or miss each other by no more than the
// factor's slack.
func Meet(f evidence.Factor, a, b Span) bool { return Near(f, a, b, 1) }

// Near reports whether two spans touch, or miss each other by no more than times
// the factor's slack.
func Near(f evidence.Factor, a, b Span, times float64) bool {
	if a.Low > b.Low {
		a, b = b, a
	}
	const rounding = 1e-9 // of the machine: 7.2 less 7 is more than 0.2
	return b.Low <= a.High || b.Low-a.High <= times*max(Slack(f, a.High), Slack(f, b.Low))+rounding
}

// Same reports whether two spans have the same ends, give or take rounding.
func Same(f evidence.Factor, a, b Span) bool {
	near := func(x, y float64) bool {
		if math.IsInf(x, 0) || math.IsInf(y, 0) {
			return x == y
		}
		return math.Abs(x-y) <= max(2*Exact(f, y), 1e-6)
	}
	return near(a.Low, b.Low) && near(a.High, b.High)
}

// Overlap reports whether two spans share values. Bounds that only touch share
// none: "over 15 °C nothing hatched" does not oppose "hatched up to 15 °C".
func Overlap(f evidence.Factor, a, b Span) bool {
	a, b = a.loosened(f), b.loosened(f)
	return max(a.Low, b.Low) < min(a.High, b.High)
}

// loosened widens a point by what conversion may have moved it, and narrows a
// span with an open end by the same at its other end.
func (s Span) loosened(f evidence.Factor) Span {
	const least = 1e-6
	switch {
	case s.Point():
		e := max(Exact(f, s.Low), least)
		return Span{s.Low - e, s.High + e}
	case math.IsInf(s.High, 1) && !math.IsInf(s.Low, -1):
		s.Low += max(Exact(f, s.Low), least)
	case math.IsInf(s.Low, -1) && !math.IsInf(s.High, 1):
		s.High -= max(Exact(f, s.High), least)
	}
	return s
}

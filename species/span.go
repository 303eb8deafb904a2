package species

import (
	"cmp"
	"math"

	"hatchlore/evidence"
)

// span is the range of a claim or of several; an open end is infinite.
type span struct{ low, high float64 }

func spanOf(c evidence.Claim) span {
	s := span{math.Inf(-1), math.Inf(1)}
	if c.Low != nil {
		s.low = *c.Low
	}
	if c.High != nil {
		s.high = *c.High
	}
	return s
}

func hasNumber(c evidence.Claim) bool { return c.Low != nil || c.High != nil }

func (s span) join(t span) span { return span{min(s.low, t.low), max(s.high, t.high)} }

func (s span) point() bool { return s.low == s.high }

// ends returns the span as a claim has it, nil where open.
func (s span) ends() (low, high *float64) {
	if !math.IsInf(s.low, 0) {
		low = &s.low
	}
	if !math.IsInf(s.high, 0) {
		high = &s.high
	}
	return low, high
}

func compareSpans(a, b span) int {
	return cmp.Or(cmp.Compare(a.low, b.low), cmp.Compare(a.high, b.high))
}

// slack is how near two values of a factor may be and still be the same:
// rounding, and months of 30 against four weeks of 28 days. Relative for
// lengths and concentrations, absolute elsewhere. Our own judgement, no source.
func slack(f evidence.Factor, v float64) float64 {
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

// exact is how far two printings of one value may differ by conversion alone.
func exact(f evidence.Factor, v float64) float64 { return slack(f, v) / 4 }

// meet reports whether two spans touch, or miss each other by no more than the
// factor's slack.
func meet(f evidence.Factor, a, b span) bool {
	if a.low > b.low {
		a, b = b, a
	}
	return b.low <= a.high || b.low-a.high <= max(slack(f, a.high), slack(f, b.low))
}

// overlap reports whether two spans share values. Bounds that only touch share
// none: "over 15 °C nothing hatched" does not oppose "hatched up to 15 °C".
func overlap(f evidence.Factor, a, b span) bool {
	a, b = a.loosened(f), b.loosened(f)
	return max(a.low, b.low) < min(a.high, b.high)
}

// loosened widens a point by what conversion may have moved it, and narrows a
// span with an open end by the same at its other end.
func (s span) loosened(f evidence.Factor) span {
	const least = 1e-6
	switch {
	case s.point():
		e := max(exact(f, s.low), least)
		return span{s.low - e, s.high + e}
	case math.IsInf(s.high, 1) && !math.IsInf(s.low, -1):
		s.low += max(exact(f, s.low), least)
	case math.IsInf(s.low, -1) && !math.IsInf(s.high, 1):
		s.high -= max(exact(f, s.high), least)
	}
	return s
}

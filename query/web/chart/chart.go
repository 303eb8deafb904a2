// Package chart lays out the drawings of the local page: where bars, ticks and
// signs stand. The page's templates draw them as SVG.
//
// It refuses to tell things apart by colour alone: every bearing has a sign of
// its own, and every bar a description in words.
package chart

import (
	"fmt"
	"math"
	"strconv"

	"hatchlore/evidence"
	"hatchlore/evidence/quantity"
)

// Span is the value of one claim. Low or High is nil where it is open.
type Span struct {
	Low, High  *float64
	Unit       string
	Bearing    evidence.Bearing
	Secondhand bool
}

// Axis is the common scale of the bars of one factor. Places are in per cent of
// its width, so that a drawing fits any window.
type Axis struct {
	Unit  string // as the trade writes it
	Log   bool
	Ticks []Tick

	unit      string
	low, high float64
}

// Tick is a mark on the scale.
type Tick struct {
	At    Percent
	Label string
}

// Percent is a place on the width of a drawing.
type Percent float64

// String prints the place as SVG takes it.
func (p Percent) String() string { return strconv.FormatFloat(float64(p), 'f', 2, 64) + "%" }

// Bar is one value on the scale.
type Bar struct {
	From, To          Percent
	OpenLow, OpenHigh bool
	Point             bool // From and To are one place
	Bearing           evidence.Bearing
	Secondhand        bool
	Words             string // what the bar shows, for who cannot see it
}

// wideRatio is how many times the least value the greatest may be before a
// scale is better logarithmic. Our own judgement, no source.
const wideRatio = 50

// margin is left free at both ends, per cent: room for signs and open ends.
const margin = 4

// New returns the scale for spans; nil where there are not two different
// numbers in the unit that most of them have.
func New(spans []Span) *Axis {
	a := &Axis{unit: commonUnit(spans), low: math.Inf(1), high: math.Inf(-1)}
	for _, s := range spans {
		for _, v := range []*float64{s.Low, s.High} {
			if v != nil && s.Unit == a.unit {
				a.low, a.high = min(a.low, *v), max(a.high, *v)
			}
		}
	}
	if !(a.low < a.high) {
		return nil
	}
	a.Log = a.low > 0 && a.high > wideRatio*a.low
	a.Unit = unitWord(a.unit)
	a.Ticks = a.ticks()
	return a
}

func commonUnit(spans []Span) string {
	count := map[string]int{}
	best := ""
	for _, s := range spans {
		if s.Low == nil && s.High == nil {
			continue
		}
		if count[s.Unit]++; count[s.Unit] > count[best] {
			best = s.Unit
		}
	}
	return best
}

// unitWord is the unit without a number.
func unitWord(unit string) string {
	if unit == "1" {
		return ""
	}
	one := quantity.Format(1, quantity.Unit(unit))
	if len(one) > 2 && one[:2] == "1 " {
		return one[2:]
	}
	return unit
}

func (a *Axis) at(v float64) Percent {
	share := (v - a.low) / (a.high - a.low)
	if a.Log {
		share = math.Log(v/a.low) / math.Log(a.high/a.low)
	}
	return Percent(margin + (100-2*margin)*min(max(share, 0), 1))
}

// mostTicks is how many marks a narrow screen has room for.
const mostTicks = 5

func (a *Axis) ticks() []Tick {
	var out []Tick
	for _, v := range a.steps() {
		out = append(out, Tick{a.at(v), quantity.Format(v, "")})
	}
	return out
}

// steps are round values within the scale: 1, 2 or 5 times a power of ten.
func (a *Axis) steps() []float64 {
	var out []float64
	if a.Log {
		every := math.Ceil(math.Log10(a.high/a.low) / mostTicks)
		for e := math.Ceil(math.Log10(a.low)); ; e += every {
			v := math.Pow(10, e)
			if v > a.high {
				break
			}
			out = append(out, v)
		}
		if len(out) >= 2 {
			return out
		}
		return []float64{a.low, a.high}
	}
	raw := (a.high - a.low) / mostTicks
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*step >= raw {
			step *= m
			break
		}
	}
	for n := math.Ceil(a.low / step); n*step <= a.high+step/1e6; n++ {
		out = append(out, n*step)
	}
	return out
}

// Bar places a value; nil for one without a number in the scale's unit.
func (a *Axis) Bar(s Span) *Bar {
	if s.Unit != a.unit || s.Low == nil && s.High == nil {
		return nil
	}
	b := &Bar{From: 0, To: 100, OpenLow: s.Low == nil, OpenHigh: s.High == nil, Bearing: s.Bearing, Secondhand: s.Secondhand}
	if s.Low != nil {
		b.From = a.at(*s.Low)
	}
	if s.High != nil {
		b.To = a.at(*s.High)
	}
	b.Point = b.From == b.To
	b.Words = fmt.Sprintf("%s, %s", quantity.FormatRange(s.Low, s.High, quantity.Unit(s.Unit)), s.Bearing)
	return b
}

package value

import (
	"math"
	"testing"

	"hatchlore/evidence"
)

func claim(f evidence.Factor, low, high float64) evidence.Claim {
	c := evidence.Claim{Factor: f, Unit: f.Unit()}
	if !math.IsInf(low, 0) {
		c.Low = &low
	}
	if !math.IsInf(high, 0) {
		c.High = &high
	}
	return c
}

func TestOf(t *testing.T) {
	open := math.Inf(1)
	for _, tt := range []struct {
		claim    evidence.Claim
		category string
		want     string
	}{
		{claim(evidence.ColdLength, 30, 30), "", "30 d"},
		{claim(evidence.ColdLength, 30, 45), "", "30–45 d"},
		{claim(evidence.ColdLength, 90, open), "", "≥ 90 d"},
		{claim(evidence.WarmTemperature, -open, 25), "", "≤ 25 °C"},
		{claim(evidence.WarmTemperature, 7.2222, 7.2222), "", "7.2 °C"}, // 45 °F
		{claim(evidence.TimeToHatch, 40./24, 21), "", "1.7–21 d"},       // 40 h
		{claim(evidence.TimeToHatch, 0.25, 0.25), "", "0.25 d"},         // 6 h
		{claim(evidence.Conductivity, 640, 640), "", "640 µS/cm"},
		{claim(evidence.Drying, 28, 28), "required", "required, 28 d"},
		{claim(evidence.Trigger, -open, open), "flooding", "flooding"},
	} {
		tt.claim.Category = tt.category
		if got := Of(tt.claim); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestSpans(t *testing.T) {
	inf := math.Inf(1)
	for _, tt := range []struct {
		factor        evidence.Factor
		a, b          Span
		meet, overlap bool
	}{
		{evidence.WarmTemperature, Span{5, 10}, Span{11, 15}, true, false},
		{evidence.WarmTemperature, Span{5, 10}, Span{12, 15}, false, false},
		{evidence.WarmTemperature, Span{5, 10}, Span{8, 15}, true, true},
		{evidence.WarmTemperature, Span{-inf, 15}, Span{15, inf}, true, false},
		{evidence.WarmTemperature, Span{20, 20}, Span{18, inf}, true, true},
		{evidence.ColdLength, Span{28, 28}, Span{30, 30}, true, false},
		{evidence.ColdLength, Span{28, 28}, Span{45, 45}, false, false},
		{evidence.PH, Span{7, 7}, Span{7.2, 7.2}, true, false},
	} {
		if Meet(tt.factor, tt.a, tt.b) != tt.meet || Meet(tt.factor, tt.b, tt.a) != tt.meet {
			t.Errorf("%s: %v and %v meet: want %t", tt.factor, tt.a, tt.b, tt.meet)
		}
		if Overlap(tt.factor, tt.a, tt.b) != tt.overlap || Overlap(tt.factor, tt.b, tt.a) != tt.overlap {
			t.Errorf("%s: %v and %v overlap: want %t", tt.factor, tt.a, tt.b, tt.overlap)
		}
	}
	if got := Printed([]Span{{0, 0}, {60, inf}, {-inf, 25}}); got != (Span{0, 60}) {
		t.Errorf("printed %v", got)
	}
	for s, want := range map[Span]float64{{2, 4}: 3, {-inf, 4}: 4, {2, inf}: 2, {-inf, inf}: 0} {
		if got := s.Middle(); got != want {
			t.Errorf("middle of %v is %v, want %v", s, got, want)
		}
	}
}

// A value left in °F, with its decimal point gone or in the wrong thousand is known
// again; lengths have no such slip.
func TestSlips(t *testing.T) {
	for _, tt := range []struct {
		factor   evidence.Factor
		is, was  float64
		mistaken bool
	}{
		{evidence.WarmTemperature, 50, 10, true},
		{evidence.WarmTemperature, 68, 20, true},
		{evidence.WarmTemperature, 50, 12, false},
		{evidence.Conductivity, 1200, 120, true},
		{evidence.Conductivity, 640, 0.64, true},
		{evidence.ColdLength, 300, 30, false},
	} {
		found := false
		for _, s := range Slips(tt.factor, Span{tt.is, tt.is}) {
			found = found || Same(tt.factor, s.Span, Span{tt.was, tt.was})
		}
		if found != tt.mistaken {
			t.Errorf("%s: %v for %v: %t", tt.factor, tt.is, tt.was, found)
		}
	}
}

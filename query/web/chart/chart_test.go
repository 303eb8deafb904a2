package chart

import (
	"math"
	"testing"

	"hatchlore/evidence"
)

func num(v float64) *float64 { return &v }

func TestScale(t *testing.T) {
	deg := func(low, high *float64) Span {
		return Span{Low: low, High: high, Unit: "degC", Bearing: evidence.Favours}
	}
	a := New([]Span{deg(num(4), num(4)), deg(num(10), num(20)), {Low: num(900), High: num(900), Unit: "K"}})
	if a == nil || a.Log || a.Unit != "°C" {
		t.Fatalf("%+v", a)
	}
	if b := a.Bar(deg(num(4), num(20))); b.From != margin || b.To != 100-margin || b.Point {
		t.Errorf("the whole range: %+v", b)
	}
	if b := a.Bar(deg(num(10), nil)); !b.OpenHigh || b.To != 100 || b.Words != "≥ 10 °C, favours" {
		t.Errorf("an open end: %+v", b)
	}
	if b := a.Bar(Span{Low: num(280), High: num(280), Unit: "K"}); b != nil {
		t.Errorf("another unit stands on the scale: %+v", b)
	}
	if a := New([]Span{deg(num(4), num(4)), deg(num(4), num(4))}); a != nil {
		t.Error("one number has a scale")
	}
}

// Whatever the range, a scale has at least one round mark and few, in order
// and inside the drawing.
func TestTicks(t *testing.T) {
	for _, r := range [][2]float64{{0, 1}, {-20, 5}, {3.9, 4.1}, {28, 60}, {0.02, 5000}, {1, 60}, {60, 61}, {5, 1e6}, {7, 8}, {-0.5, 0}} {
		a := New([]Span{{Low: num(r[0]), High: num(r[1]), Unit: "d"}})
		if len(a.Ticks) < 1 || len(a.Ticks) > mostTicks+2 {
			t.Errorf("%v: %d marks: %v", r, len(a.Ticks), a.Ticks)
		}
		last := math.Inf(-1)
		for _, k := range a.Ticks {
			if float64(k.At) <= last || k.At < margin-0.01 || k.At > 100-margin+0.01 {
				t.Errorf("%v: mark %q at %v", r, k.Label, k.At)
			}
			last = float64(k.At)
		}
	}
}

package timecourse

import (
	"math"
	"testing"

	"hatchlore/evidence/stat/stattest"
)

// Published in the tests and pages of two seed-science packages for the first
// two series, computed in R for all; the second meets its half exactly at a count.
func TestHatchingIndices(t *testing.T) {
	days := func(n int) (out []float64) {
		for i := range n {
			out = append(out, float64(i+1))
		}
		return out
	}
	tests := []struct {
		s                                                                      Series
		coolbear, half, mean, variance, se, speed, uncertainty, synchrony, tol float64
	}{
		{Series{days(14), []int{0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0}, 50}, 5.97058823529412, 5.94117647058824, 6.7, 1.44615384615385, 0.190141647604743, 6.13892496, 2.06298725, 0.26666667, 1e-12},
		{Series{days(10), []int{0, 2, 2, 11, 10, 13, 7, 5, 0, 0}, 50}, 5.03846154, 5, 5.42, 2.33020408, 0.21587979, 10.20833333, 2.55105879, 0.17224490, 1e-8},
		{Series{days(7), []int{0, 12, 21, 9, 4, 2, 0}, 60}, 2.59523810, 2.57142857, 3.22916667, 1.11657801, 0.15251899, 16.38333333, 1.96438873, 0.28280142, 1e-8},
		{Series{[]float64{2, 4, 7, 11, 16}, []int{0, 3, 11, 20, 6}, 50}, 8.3, 8.2, 10.125, 11.34294872, 0.53251640, 4.51461039, 1.70300379, 0.33717949, 1e-8},
	}
	for _, tt := range tests {
		if err := tt.s.Check(); err != nil {
			t.Fatal(err)
		}
		stattest.Near(t, "half, Coolbear", tt.s.TimeToHalfCoolbear(), tt.coolbear, tt.tol)
		stattest.Near(t, "half", tt.s.TimeToHalf(), tt.half, tt.tol)
		stattest.Near(t, "mean", tt.s.MeanTime(), tt.mean, tt.tol)
		stattest.Near(t, "variance", tt.s.Variance(), tt.variance, tt.tol*10)
		stattest.Near(t, "error", tt.s.MeanTimeError(), tt.se, tt.tol)
		stattest.Near(t, "speed", tt.s.Speed(), tt.speed, 1e-8)
		stattest.Near(t, "uncertainty", tt.s.Uncertainty(), tt.uncertainty, 1e-8)
		stattest.Near(t, "synchrony", tt.s.Synchrony(), tt.synchrony, 1e-8)
	}
	stattest.Near(t, "cumulative per cent", tests[0].s.CumulativePercent(), 664, 1e-9)
	stattest.Near(t, "cumulative per cent", tests[2].s.CumulativePercent(), 381.6667, 1e-4)
	stattest.Near(t, "rate, one over the mean time", 1/tests[0].s.MeanTime(), 0.149253731343284, 1e-12)
	stattest.Near(t, "coefficient of velocity", 100/tests[0].s.MeanTime(), 14.9253731343284, 1e-12)
	if first, last, ok := tests[0].s.FirstLast(); first != 5 || last != 11 || last-first != 6 || !ok {
		t.Errorf("first %v, last %v", first, last)
	}
	none := Series{days(3), []int{0, 0, 0}, 20}
	for _, v := range []float64{none.TimeToHalf(), none.TimeToHalfCoolbear(), none.MeanTime(), none.Speed(), none.Uncertainty()} {
		if !math.IsNaN(v) {
			t.Errorf("an index of nothing is %v", v)
		}
	}
	for _, bad := range []Series{{}, {days(2), []int{1, -1}, 5}, {days(2), []int{3, 3}, 5}, {[]float64{2, 2}, []int{1, 1}, 5}} {
		if bad.Check() == nil {
			t.Errorf("%v passes", bad)
		}
	}
}

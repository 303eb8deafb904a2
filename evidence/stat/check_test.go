package stat

import (
	"math"
	"testing"
)

// near fails unless got is within tol of want; relative tolerances are given by
// the caller as tol times want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tol {
		t.Errorf("%s: got %.10g, want %.10g within %.1g", what, got, want, tol)
	}
}

func nearInterval(t *testing.T, what string, got Interval, low, high, tol float64) {
	t.Helper()
	near(t, what+" low", got.Low, low, tol)
	near(t, what+" high", got.High, high, tol)
}

func nearAll(t *testing.T, what string, got, want []float64, tol float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: got %d values, want %d", what, len(got), len(want))
		return
	}
	for i := range got {
		near(t, what, got[i], want[i], tol)
	}
}

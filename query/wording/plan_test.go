package wording

import "testing"

func TestLikeness(t *testing.T) {
	for rho, want := range map[float64]string{-0.01: "none seen", 0: "none seen", 0.0002: "under 0.001", 0.0007: "0.001", 0.0772: "0.077"} {
		if got := Likeness(rho); got != want {
			t.Errorf("%v: %q, want %q", rho, got, want)
		}
	}
}

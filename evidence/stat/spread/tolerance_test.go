package spread

import (
	"math"
	"testing"

	"hatchlore/evidence/stat/stattest"
)

// 7 CFR 201.55; the column follows the studentised range at 0.975 for four
// (3.984, from R) within 1.1 points.
func TestDishTolerance(t *testing.T) {
	for _, tt := range []struct{ mean, four, two int }{{99, 5, 0}, {2, 5, 0}, {95, 9, 7}, {6, 9, 7}, {90, 12, 9}, {80, 16, 13}, {70, 18, 14}, {31, 18, 14}, {51, 20, 16}, {50, 20, 16}} {
		if got, ok := DishTolerance(float64(tt.mean), 4); !ok || got != tt.four {
			t.Errorf("mean %d, four dishes: %d, want %d", tt.mean, got, tt.four)
		}
		if got, ok := DishTolerance(float64(tt.mean), 2); got != tt.two || ok != (tt.two > 0) {
			t.Errorf("mean %d, two dishes: %d, want %d", tt.mean, got, tt.two)
		}
	}
	for m := 51; m < 100; m++ {
		got, _ := DishTolerance(float64(m), 4)
		stattest.Near(t, "range", float64(got), 3.98401473*math.Sqrt(float64(m*(100-m))/100), 1.1)
	}
	for _, c := range [][2]int{{100, 4}, {1, 4}, {80, 3}} {
		if _, ok := DishTolerance(float64(c[0]), c[1]); ok {
			t.Errorf("a mean of %d in %d dishes has a tolerance", c[0], c[1])
		}
	}
}

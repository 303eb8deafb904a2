package power

import (
	"math/rand/v2"
	"testing"

	"hatchlore/evidence/stat/spread"
	"hatchlore/evidence/stat/stattest"
)

// The power of the t test on dish fractions, by 40,000 trials in R (standard
// error up to 0.0025); 20,000 trials here, so 0.012 is wide enough.
func TestDishPower(t *testing.T) {
	tests := []struct {
		p1, p2 float64
		eggs   int
		rho    float64
		dishes int
		want   float64
	}{
		{0.3, 0.5, 25, 0.05, 9, 0.790},
		{0.3, 0.5, 50, 0.05, 7, 0.769},
		{0.3, 0.5, 25, 0, 4, 0.693},
		{0.2, 0.5, 20, 0.1, 6, 0.758},
		{0.3, 0.3, 25, 0.05, 9, 0.050},
		{0.2, 0.2, 20, 0.1, 6, 0.048},
	}
	for _, tt := range tests {
		got, err := Dishes(tt.p1, tt.p2, tt.eggs, tt.rho, tt.dishes, 20000, rand.New(rand.NewPCG(17, 4)))
		if err != nil {
			t.Fatal(err)
		}
		stattest.Near(t, "power", got, tt.want, 0.012)
	}
}

// The normal approximation with the design effect promises more than dishes
// keep: compare TestDishPower (R's power.prop.test at the effective number of
// eggs).
func TestDesignEffectPromisesTooMuch(t *testing.T) {
	for _, tt := range []struct {
		p1, p2 float64
		eggs   int
		rho    float64
		dishes int
		want   float64
	}{{0.3, 0.5, 25, 0.05, 9, 0.8365}, {0.3, 0.5, 50, 0.05, 7, 0.8335}, {0.3, 0.5, 25, 0, 4, 0.8281}, {0.2, 0.5, 20, 0.1, 6, 0.8287}} {
		n := float64(tt.eggs*tt.dishes) / spread.DesignEffect(tt.eggs, tt.rho)
		stattest.Near(t, "promise", Pair(tt.p1, tt.p2, n, 0.05), tt.want, 5e-5)
	}
}
